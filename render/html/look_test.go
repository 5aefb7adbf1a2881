package html

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// TestLook takes pictures of the page for eyes: of the example floor with its
// previous inspection, or of the page that LOOK_PAGE names, into the
// folder LOOK.
func TestLook(t *testing.T) {
	dir := os.Getenv("LOOK")
	if dir == "" {
		t.Skip()
	}
	page := ""
	if name := os.Getenv("LOOK_PAGE"); name != "" {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		page = string(b)
	} else {
		_, page = comparedPage(t)
	}
	ctx := browser(t)
	only := os.Getenv("LOOK_ONLY")
	for _, s := range states {
		for _, v := range views {
			name := s.name + "-" + v.name
			if !strings.Contains(name, only) {
				continue
			}
			p := open(t, ctx, page, "", append(v.emulate(), dark(v.dark))...)
			p.do(run(s.script))
			ask[chromedp.Void](p, "new Promise(r => setTimeout(r, 300))")
			picture, err := chromedp.Run(p.ctx, chromedp.CaptureScreenshot())
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(dir, fmt.Sprint(name, ".png")), picture, 0o666); err != nil {
				t.Fatal(err)
			}
			p.quiet()
		}
	}
}

// state is something that a reader does with the page.
type state struct{ name, script string }

var states = []state{
	{"start", ""},
	{"worst", "document.querySelector('[data-at] button')?.click()"},
	{"plate", "goTo(D.plates.find((p, i) => p.repairs && !p.sector)?.label ?? D.plates[0].label)"},
	{"grown", "then.known && showFigure('grown')"},
	{"beside", "then.known && showDates('beside')"},
	{"unexamined", "showFigure('unexamined')"},
	{"todo", "showFigure('todo')"},
	{"tracks", "shade = 'loss'; showLegend(); repaint()"},
	{"photos", "choosePhoto(0); chooseOther({ kind: 'photos', i: 0 })"},
	{"layers", "for (const l of Object.keys(layers)) showLayer(l, true)"},
	{"filters", "for (const d of el('choose').querySelectorAll('details')) d.open = true; el('remaining-to').value = '<4.2'; el('remaining-to').dispatchEvent(new Event('input')); if (innerWidth < 800) el('choose').scrollIntoView()"},
	{"asked", "filterBy('soil annular >20 %')"},
	{"none", "filterBy('product critical >90 %'); if (innerWidth < 800) el('list').scrollIntoView()"},
	{"changed", "goTo(D.plates.find((_, i) => P.plate.some((p, k) => p === i && word(P.class, k) === 'grown'))?.label ?? D.plates[0].label); el('read').scrollTop = 180"},
	{"list", "el('list').scrollIntoView()"},
}

// viewport is a screen.
type viewport struct {
	name          string
	width, height int64
	phone, dark   bool
}

var views = []viewport{
	{"desktop", 1440, 900, false, false},
	{"desktop-dark", 1440, 900, false, true},
	{"phone", 375, 812, true, false},
	{"phone-dark", 375, 812, true, true},
}

func (v viewport) emulate() []action {
	return []action{
		command(emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: v.width, Height: v.height, DeviceScaleFactor: 1, Mobile: v.phone}),
		command(emulation.SetTouchEmulationEnabled, emulation.SetTouchEmulationEnabledParams{Enabled: v.phone}),
	}
}

// dark has the browser prefer dark pages, or light ones.
func dark(yes bool) action {
	value := "light"
	if yes {
		value = "dark"
	}
	return command(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: value}}})
}
