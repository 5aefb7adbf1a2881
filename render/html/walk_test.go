package html

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"platebook/rules"
	"platebook/rules/inspection"
	"platebook/rules/unit"
	"platebook/workbook/demo"
	"platebook/workbook/form"
)

// laid is the floor of a tank of a diameter, mm, laid in rows, with as many
// indications on each plate; the rest as in the example.
func laid(tb testing.TB, o form.Options, each int) *rules.Assessment {
	tb.Helper()
	book, err := demo.Example(unit.SI)
	if err != nil {
		tb.Fatal(err)
	}
	slots, err := form.Layout(o)
	if err != nil {
		tb.Fatal(err)
	}
	tank := book.Rows["Tank"][0]
	tank["Diameter"], tank["Annular ring"] = float64(o.Diameter), "no"
	delete(tank, "Annular width inside the shell")
	delete(tank, "Annular nominal thickness")
	for name := range book.Rows {
		switch name {
		case "Guide", "Tank", "Crew", "Instruments", "Checks":
		default:
			delete(book.Rows, name)
		}
	}
	var plates, indications []form.Record
	for i, s := range slots {
		plates = append(plates, form.Record{
			"Plate": s.Label, "Type": s.Type, "Row": strconv.Itoa(s.Row), "Position": strconv.Itoa(s.Position),
			"Length": s.Length, "Width": s.Width, "MFL scanned %": 100.0,
		})
		for k := range each {
			indications = append(indications, form.Record{
				"ID": fmt.Sprint(i*each + k + 1), "Plate": s.Label, "X": s.Length * (0.3 + 0.4*float64(k)/float64(each)), "Y": s.Width / 2,
				"Length": 40.0, "Width": 30.0, "Side": []string{"soil", "product"}[k%2], "Method": "MFL", "Loss %": 20 + float64((7*i+3*k)%45),
			})
		}
	}
	book.Rows["Plates"], book.Rows["Indications"] = plates, indications
	read := readBook(tb, book)
	return rules.Assess(read.Inspection, read.Hits, nil)
}

// walks are floors unlike the example.
var walks = []struct {
	name string
	of   func(testing.TB) *rules.Assessment
}{
	{"example", func(tb testing.TB) *rules.Assessment { return compared(tb) }},
	{"300 plates", func(tb testing.TB) *rules.Assessment {
		book, err := demo.Big(300, 3000, 600, 0)
		if err != nil {
			tb.Fatal(err)
		}
		read := readBook(tb, book)
		return rules.Assess(read.Inspection, read.Hits, nil)
	}},
	{"4 m tank", func(tb testing.TB) *rules.Assessment {
		return laid(tb, form.Options{Diameter: 4000, PlateLength: 4000, PlateWidth: 1500}, 5)
	}},
	{"90 m tank", func(tb testing.TB) *rules.Assessment {
		return laid(tb, form.Options{Diameter: 90_000, PlateLength: 9000, PlateWidth: 2400}, 3)
	}},
	{"no indications", func(tb testing.TB) *rules.Assessment {
		return example(tb, func(in *inspection.Inspection) { in.Indications, in.ProveUps = nil, nil })
	}},
	{"one plate", func(tb testing.TB) *rules.Assessment {
		return example(tb, func(in *inspection.Inspection) {
			keep := in.Indications[0].Plate.Value
			var plates []inspection.Plate
			for _, p := range in.Plates {
				if p.Label.Value == keep {
					plates = append(plates, p)
				}
			}
			var found []inspection.Indication
			for _, r := range in.Indications {
				if r.Plate.Value == keep {
					found = append(found, r)
				}
			}
			in.Plates, in.Indications, in.ProveUps, in.Tracks = plates, found, nil, nil
		})
	}},
	{"nothing", func(tb testing.TB) *rules.Assessment {
		return example(tb, func(in *inspection.Inspection) {
			in.Plates, in.Indications, in.ProveUps, in.Tracks, in.Readings = nil, nil, nil, nil, nil
			in.Visual, in.Welds, in.Fixtures, in.Photos, in.Patches = nil, nil, nil, nil, nil
			in.Tank.Diameter = inspection.Length{}
		})
	}},
	{"hostile", hostile},
	{"broken text", brokenText},
}

// brokenText is the example floor with texts that are no proper Unicode, or
// only just: halves of letters, marks without a letter, letters that other
// systems take for the ends of something.
func brokenText(tb testing.TB) *rules.Assessment {
	texts := []string{"\xed\xa0\x80 half", "\xff\xfe", "\u0301\u0301\u0301", "\u2028line\u2029", "\ufeff\u200b", "\U0010ffff\ufffe", "<!--<script>", "]]>", "{{w \"plate\"}}", "#place=%", "👩‍🔧🛢️"}
	return example(tb, func(in *inspection.Inspection) {
		n := 0
		set := func(f *inspection.Text) {
			f.Value = texts[n%len(texts)] + strconv.Itoa(n)
			f.Text, f.State = f.Value, inspection.Given
			n++
		}
		set(&in.Tank.Tank)
		set(&in.Tank.Client)
		names := map[string]string{}
		for i := range in.Plates[:len(texts)] {
			was := in.Plates[i].Label.Value
			set(&in.Plates[i].Label)
			set(&in.Plates[i].Remarks)
			names[was] = in.Plates[i].Label.Value
		}
		for i := range in.Indications {
			r := &in.Indications[i]
			if to, ok := names[r.Plate.Value]; ok {
				r.Plate.Value, r.Plate.Text = to, to
				set(&r.ID)
				set(&r.Remarks)
			}
		}
	})
}

// walkView is a screen with other settings of a person's system.
type walkView struct {
	viewport
	media []*emulation.MediaFeature
}

// before is what makes a window so.
func (v walkView) before() []action {
	list := append(v.emulate(), dark(v.dark))
	if v.media != nil {
		list = append(list, command(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: v.media}))
	}
	return list
}

// walkViews are screens, two of them of desktops whose browser enlarges all.
var walkViews = []walkView{
	{viewport{"desktop", 1440, 900, false, false}, nil},
	{viewport{"200 percent", 640, 400, false, false}, nil},
	{viewport{"400 percent", 320, 200, false, false}, nil},
	{viewport{"phone", 375, 812, true, true}, nil},
	{viewport{"contrast", 1440, 900, false, true}, []*emulation.MediaFeature{{Name: "forced-colors", Value: "active"}, {Name: "prefers-contrast", Value: "more"}, {Name: "prefers-reduced-motion", Value: "reduce"}, {Name: "prefers-color-scheme", Value: "dark"}}},
}

// TestWalk opens floors unlike the example in windows unlike a desk's, and uses
// all of them: nothing complains, nothing is wider than the window, every row
// is in the table, and everything that can be pressed can be pressed. LOOK
// names a folder for pictures.
func TestWalk(t *testing.T) {
	ctx := browser(t)
	for _, w := range walks {
		t.Run(w.name, func(whole *testing.T) {
			whole.Parallel()
			a := w.of(whole)
			page := write(whole, a, Options{})
			var p *tab // of all windows
			for _, v := range walkViews {
				if !allViews() && w.name != "example" && v.name != "desktop" && v.name != "400 percent" {
					continue
				}
				whole.Run(v.name, func(t *testing.T) {
					if p == nil {
						p = open(whole, ctx, page, "", v.before()...)
					} else {
						p.again(v.before()...)
					}
					walk(t, p, w.name, a, v)
				})
			}
			p.quiet()
		})
	}
}

func walk(t *testing.T, p *tab, floor string, a *rules.Assessment, v walkView) {
	if n, want := ask[string](p, "el('table').getAttribute('aria-rowcount')"), fmt.Sprint(len(placesOf(a))+1); n != want {
		t.Errorf("%s rows, want %s", n, want)
	}
	look := func(name string) {
		t.Helper()
		if over := ask[[]string](p, wider); len(over) > 0 {
			t.Errorf("%s: the page is wider than the window: %s", name, strings.Join(over, " | "))
		}
		dir := os.Getenv("LOOK")
		if dir == "" {
			return
		}
		ask[chromedp.Void](p, "new Promise(r => setTimeout(r, 200))")
		picture, err := chromedp.Run(p.ctx, chromedp.CaptureScreenshot())
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, strings.ReplaceAll(floor+"-"+v.name+"-"+name+".png", " ", "_")), picture, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	look("start")
	if ask[bool](p, "D.plan.known") != ask[bool](p, painted) {
		t.Error("the plan is not what the data has")
	}
	p.do(run(press))
	look("used")
	p.do(run("showAll(); step(1)"))
	look("worst")
}

// wider is what reaches beyond the window, without what scrolls by itself.
const wider = `document.documentElement.scrollWidth <= innerWidth ? [] : [...document.body.querySelectorAll('*')].filter(e => e.checkVisibility() && e.getBoundingClientRect().right > innerWidth + 1 && !e.closest('#scroll, .unseen')).slice(0, 4).map(e => e.outerHTML.slice(0, 120))`

// painted is whether there is a rim or an edge of a plate in the plan's middle row.
const painted = `(() => {
  const d = ctx.getImageData(0, canvas.height >> 1, canvas.width, 1).data, seen = new Set();
  for (let i = 0; i < d.length; i += 4) seen.add(d[i] << 16 | d[i + 1] << 8 | d[i + 2]);
  return seen.size > 1 && D.plates.length > 0;
})()`

// press uses every control but those that print or leave.
const press = `(() => {
  for (const d of document.querySelectorAll('details')) d.open = true;
  for (const b of document.querySelectorAll('button, input, select')) {
    if (!b.isConnected || !b.checkVisibility() || b.disabled || b.id === 'print' || b.closest('noscript')) continue;
    if (b.tagName === 'SELECT') {
      for (const o of [...b.options].slice(0, 4)) { b.value = o.value; b.dispatchEvent(new Event('change')); }
    } else if (b.type === 'text') {
      for (const t of ['<4', '> 2,5', 'x', '']) { b.value = t; b.dispatchEvent(new Event('input')); }
    } else b.click();
  }
  const plan = el('plan');
  for (const key of ['ArrowRight', 'ArrowDown', '+', '-', 'Enter', 'n', 'p', '0', 'Escape']) {
    plan.dispatchEvent(new KeyboardEvent('keydown', { key, cancelable: true }));
    el('table').dispatchEvent(new KeyboardEvent('keydown', { key, cancelable: true }));
  }
  for (const name of [...D.plates.slice(0, 12).map(p => p.label), '', 'zz', '107', 'photos']) { el('find').value = name; el('seek').requestSubmit(); }
  for (let i = 0; i < N; i += i < 10 ? 1 : Math.ceil(N / 10)) choosePlace(i);
})()`
