package html

import (
	"bytes"
	"context"
	"os"
	"strings"
	"sync"
	"testing"

	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/compare"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/unit"
	"platebook/workbook"
	"platebook/workbook/demo"
)

// All numbers of these workbooks are invented: the tests hold the page against
// the assessment it was made from.

func readBook(tb testing.TB, book demo.Book) *workbook.Book {
	tb.Helper()
	var b bytes.Buffer
	if err := book.Write(&b); err != nil {
		tb.Fatal(err)
	}
	read, err := workbook.OpenBytes(context.Background(), "sample.xlsx", b.Bytes(), workbook.Options{})
	if err != nil {
		tb.Fatal(err)
	}
	return read
}

// example is the example floor, changed before it is judged.
func example(tb testing.TB, edit func(*inspection.Inspection)) *rules.Assessment {
	tb.Helper()
	read := exampleBook(tb, edit)
	return rules.Assess(read.Inspection, read.Hits, nil)
}

// exampleBook is the example, read and changed.
func exampleBook(tb testing.TB, edit func(*inspection.Inspection)) *workbook.Book {
	tb.Helper()
	book, err := demo.Example(unit.SI)
	if err != nil {
		tb.Fatal(err)
	}
	read := readBook(tb, book)
	if edit != nil {
		edit(read.Inspection)
	}
	return read
}

// compared is the example floor with an inspection twelve years before it: each
// seventh place had not been found then, losses were three quarters, some
// places stood a little aside, and the metal of prove-ups was thicker.
func compared(tb testing.TB) *rules.Assessment {
	tb.Helper()
	past := exampleBook(tb, func(in *inspection.Inspection) {
		in.File.Name, in.File.ValuesSHA256 = "earlier.xlsx", "earlier"
		end := &in.Tank.InspectionEnd
		end.Value = unit.NewDate(end.Value.Time().Year()-12, 5, 20)
		var kept []inspection.Indication
		for i := range in.Indications {
			r := in.Indications[i]
			if i%7 == 3 {
				continue
			}
			r.X.Value += unit.Length(i % 3 * 5)
			r.Loss.Value *= 0.75
			kept = append(kept, r)
		}
		in.Indications = append(kept, lostPlaces(in)...)
		for i := range in.ProveUps {
			in.ProveUps[i].Remaining.Value += unit.Length(i%3) * 0.4
		}
	})
	read := exampleBook(tb, nil)
	a := rules.AssessSince(read.Inspection, read.Hits, nil, rules.Past{Earlier: []compare.Survey{rules.Earlier(past.Inspection, past.Hits)}})
	if a.Comparison == nil || len(a.Comparison.Refused) > 0 {
		tb.Fatalf("nothing was compared: %+v", a.Comparison)
	}
	return a
}

// written is a floor and its page, made once for all tests that change neither.
type written struct {
	sync.Once
	a    *rules.Assessment
	page string
}

func (w *written) of(tb testing.TB, make func() *rules.Assessment) (*rules.Assessment, string) {
	tb.Helper()
	w.Do(func() { w.a = make(); w.page = write(tb, w.a, Options{}) })
	if w.page == "" {
		tb.Fatal("the page could not be made")
	}
	return w.a, w.page
}

var theExample, theCompared written

// examplePage is the example floor and its page.
func examplePage(tb testing.TB) (*rules.Assessment, string) {
	return theExample.of(tb, func() *rules.Assessment { return example(tb, nil) })
}

// comparedPage is the example floor with an earlier inspection, and its page.
func comparedPage(tb testing.TB) (*rules.Assessment, string) {
	return theCompared.of(tb, func() *rules.Assessment { return compared(tb) })
}

// allViews says whether every floor is shown in every window and printed on
// every paper, and every failure in each: with PLATEBOOK_VIEWS=all in the
// environment. Otherwise each is seen in some, and each of those with some.
func allViews() bool { return os.Getenv("PLATEBOOK_VIEWS") == "all" || os.Getenv("LOOK") != "" }

// lostPlaces are places that only the earlier inspection knows.
func lostPlaces(in *inspection.Inspection) []inspection.Indication {
	var out []inspection.Indication
	for i := 0; i < len(in.Indications) && len(out) < 4; i += 40 {
		r := in.Indications[i]
		r.ID.Value += " lost"
		r.ID.Text = r.ID.Value
		r.X.Value, r.Y.Value = 300, 900
		out = append(out, r)
	}
	return out
}

// large is an evaluated floor without repairs: the page's load, not theirs.
func large(tb testing.TB, indications int) *rules.Assessment {
	tb.Helper()
	book, err := demo.Big(150, indications, indications/5, 0)
	if err != nil {
		tb.Fatal(err)
	}
	in := readBook(tb, book).Inspection
	a := &rules.Assessment{Inspection: in, Plan: floor.Place(in)}
	a.Result = assess.Assess(in, a.Plan)
	return a
}

func write(tb testing.TB, a *rules.Assessment, opt Options) string {
	tb.Helper()
	var b strings.Builder
	if err := Write(&b, a, opt); err != nil {
		tb.Fatal(err)
	}
	return b.String()
}

const (
	markup  = `</script><script>window.owned=1</script><img src=x onerror="window.owned=1">`
	quotes  = `" onmouseover="window.owned=1" x='` + "`${window.owned=1}`"
	arabic  = "خزان ٧ \u202Eabc"
	control = "a\u0001b]]>--><!--"
)

// hostile is the example floor with texts that would like to be more.
func hostile(tb testing.TB) *rules.Assessment {
	long := strings.Repeat("verylongwordwithoutanybreak", 40)
	return example(tb, func(in *inspection.Inspection) {
		set := func(f *inspection.Text, text string) {
			f.Value, f.Text, f.State = text, text, inspection.Given
		}
		set(&in.Tank.Tank, markup)
		set(&in.Tank.Client, quotes)
		set(&in.Tank.Site, arabic)
		set(&in.Tank.FirmName, long)
		set(&in.Tank.ReportNumber, control)
		plate := in.Indications[0].Plate.Value
		for i := range in.Plates {
			if in.Plates[i].Label.Value == plate {
				set(&in.Plates[i].Label, markup)
				set(&in.Plates[i].Remarks, arabic)
			}
		}
		n := 0
		for i := range in.Indications {
			r := &in.Indications[i]
			if r.Plate.Value != plate {
				continue
			}
			set(&r.Plate, markup)
			set(&r.ID, []string{quotes, arabic, control, long}[n%4]+strings.Repeat("i", n))
			set(&r.Remarks, markup)
			set(&r.By, quotes)
			set(&r.Photo, markup+".jpg")
			n++
		}
		for i := range in.Visual {
			set(&in.Visual[i].Observation, markup)
		}
		for i := range in.Fixtures {
			set(&in.Fixtures[i].Name, markup)
		}
		for i := range in.Photos {
			set(&in.Photos[i].Caption, markup)
			set(&in.Photos[i].File, quotes)
		}
	})
}

// onePicture is a picture of the example.
func onePicture(tb testing.TB) []byte {
	tb.Helper()
	book, err := demo.Example(unit.SI)
	if err != nil {
		tb.Fatal(err)
	}
	return book.Photos[0].JPEG()
}
