package nest

import (
	"errors"
	"math"
	"reflect"
	"testing"
)

func repeated(n int, s Size) []Size {
	out := make([]Size, n)
	for i := range out {
		out[i] = s
	}
	return out
}

// invented is a list of n patches of shop-like sizes in steps of 10 mm; the
// numbers are for shape only.
func invented(n int, seed sequence) []Size {
	out := make([]Size, n)
	for i := range out {
		out[i] = Size{float64(150 + 10*seed.next(60)), float64(150 + 10*seed.next(40))}
		if seed.next(12) == 0 {
			out[i].Length *= 2
		}
	}
	return out
}

var shopSheets = []Size{{6000, 1500}, {6000, 2000}, {10000, 2500}}

// Source: method section 11, check line.
func TestPrintedCheck(t *testing.T) {
	rules := Rules{Kerf: 3, Trim: 10, Offcut: 300, Turn: true}
	for n, want := range map[int]int{8: 1, 9: 2} {
		l, err := Cut(repeated(n, Size{700, 700}), []Size{{3000, 1500}}, rules)
		if err != nil || len(l.Sheets) != want {
			t.Errorf("%d of 700 × 700: %d sheets, want %d, %v", n, len(l.Sheets), want, err)
		}
		if n == 8 && math.Abs(l.Yield()-100*8*0.49/4.5) > 1e-9 {
			t.Errorf("yield %v", l.Yield())
		}
	}
	l, err := Cut(repeated(5, Size{510, 510}), []Size{{1000, 1000}}, Rules{Turn: true})
	if err != nil || l.BoundArea != 2 || l.BoundDual != 5 || len(l.Sheets) != 5 {
		t.Errorf("five 510 × 510: bounds %d and %d, %d sheets, want 2, 5, 5", l.BoundArea, l.BoundDual, len(l.Sheets))
	}
}

// Source: strip_hopper_turton.json, Hopper and Turton (2001), and
// square_hopper_tn.json, Hopper (2000): a strip without waste fills a sheet of
// the optimal height; where cuts from edge to edge are proved unable to do so,
// one sheet must never come out.
func TestStripsAsSheets(t *testing.T) {
	for _, name := range []string{"strip_hopper_turton.json", "square_hopper_tn.json"} {
		for _, i := range load(t, name) {
			l, err := Cut(i.sizes(), []Size{{i.StripWidth, float64(i.Expected.Height)}}, Rules{Effort: 2_000_000})
			if err != nil {
				t.Fatal(err)
			}
			if l.BoundArea != 1 {
				t.Errorf("%s: area bound %d, the pieces fill one sheet", i.Name, l.BoundArea)
			}
			if len(l.Sheets) > 2 {
				t.Errorf("%s: %d sheets, at most one over the published one", i.Name, len(l.Sheets))
			}
			proved := i.Expected.Straight
			if name == "square_hopper_tn.json" {
				proved = i.Expected.Square
			}
			if proved == "proved impossible (exhaustive)" && len(l.Sheets) < 2 {
				t.Errorf("%s: one sheet, proved impossible by guillotine cuts", i.Name)
			}
			t.Logf("%s: %d sheets, %s", i.Name, len(l.Sheets), proved)
		}
	}
}

// Source: plate_gcut_guillotine.json, Beasley (1985): no guillotine layout of
// these pieces, however many of each, covers more of a sheet.
func TestNoSheetBeatsThePublishedArea(t *testing.T) {
	for _, i := range load(t, "plate_gcut_guillotine.json") {
		var pieces []Size
		for range 3 {
			pieces = append(pieces, i.sizes()...)
		}
		l, err := Cut(pieces, []Size{{i.Plate[0], i.Plate[1]}}, Rules{Effort: 2_000_000})
		if err != nil {
			t.Fatal(err)
		}
		for n, s := range l.Sheets {
			var used float64
			for _, p := range s.Pieces {
				used += p.Length * p.Width
			}
			if used > i.Expected.MaxArea {
				t.Errorf("%s sheet %d: %v covered, published maximum %v", i.Name, n+1, used, i.Expected.MaxArea)
			}
		}
	}
}

func TestSeveralStockSizes(t *testing.T) {
	rules := Rules{Kerf: 3, Trim: 10, Offcut: 300, Turn: true}
	// Invented: a few patches fit the smallest sheet; fewest sheets, then least area.
	l, err := Cut([]Size{{300, 300}, {350, 280}, {150, 160}}, shopSheets, rules)
	if err != nil || len(l.Sheets) != 1 || l.Sheets[0].Stock != 0 {
		t.Fatalf("%+v %v", l, err)
	}
	if o := l.Sheets[0].Offcuts; len(o) == 0 || o[0].Length < 5300 || o[0].Width != 1480 {
		t.Errorf("the largest offcut should keep the full width: %+v", o)
	}
	// A piece too wide for the first sheet takes the second, not the largest.
	l, _ = Cut([]Size{{1700, 1700}}, shopSheets, rules)
	if len(l.Sheets) != 1 || l.Sheets[0].Stock != 1 {
		t.Errorf("%+v", l)
	}
	// Sizes of which none holds the other are mixed.
	l, _ = Cut([]Size{{3900, 400}, {1400, 1400}}, []Size{{4000, 500}, {1500, 1500}}, Rules{Turn: true})
	if len(l.Sheets) != 2 || len(l.TooLarge) != 0 {
		t.Errorf("%+v", l)
	}
}

func TestTooLargeIsListed(t *testing.T) {
	l, err := Cut([]Size{{300, 300}, {2600, 2600}, {math.MaxFloat64, 10}, {1480, 100}}, []Size{{6000, 1500}}, Rules{Trim: 10, Turn: true})
	if err != nil || !reflect.DeepEqual(l.TooLarge, []int{1, 2}) {
		t.Errorf("%+v %v", l, err)
	}
	l, err = Cut([]Size{{100, 1480}}, []Size{{6000, 1500}}, Rules{Trim: 10})
	if err != nil || len(l.TooLarge) != 0 {
		t.Errorf("exactly the trimmed width fits: %+v %v", l, err)
	}
	l, _ = Cut([]Size{{100, 1480.01}}, []Size{{6000, 1500}}, Rules{Trim: 10})
	if len(l.TooLarge) != 1 {
		t.Error("a hair over the trimmed width does not fit")
	}
}

func TestBadInput(t *testing.T) {
	one := []Size{{100, 100}}
	for _, c := range []struct {
		pieces, stock []Size
		rules         Rules
		want          error
	}{
		{one, nil, Rules{}, ErrStock},
		{one, []Size{{0, 100}, {-5, 5}, {math.NaN(), 3}, {1e9, 1e9}}, Rules{}, ErrStock},
		{one, []Size{{100, 100}}, Rules{Trim: 60}, ErrStock},
		{[]Size{{0, 10}}, one, Rules{}, ErrPiece},
		{[]Size{{math.Inf(1), 10}}, one, Rules{}, ErrPiece},
		{[]Size{{math.NaN(), 10}}, one, Rules{}, ErrPiece},
		{one, one, Rules{Kerf: -1}, ErrRules},
		{one, one, Rules{Kerf: math.NaN()}, ErrRules},
	} {
		if _, err := Cut(c.pieces, c.stock, c.rules); !errors.Is(err, c.want) {
			t.Errorf("%v on %v: %v, want %v", c.pieces, c.stock, err, c.want)
		}
	}
	if l, err := Cut(nil, nil, Rules{}); err != nil || len(l.Sheets) != 0 || l.Yield() != 0 {
		t.Errorf("nothing to cut is no error: %+v %v", l, err)
	}
}

func TestSameInputSameLayout(t *testing.T) {
	pieces := invented(60, 7)
	rules := Rules{Kerf: 3, Trim: 10, Offcut: 300, Turn: true, Effort: 1_000_000}
	a, _ := Cut(pieces, shopSheets, rules)
	b, _ := Cut(pieces, shopSheets, rules)
	if !reflect.DeepEqual(a, b) {
		t.Error("two runs differ")
	}
}

func TestManyPieces(t *testing.T) {
	for _, n := range []int{40, 200, 1000} {
		pieces := invented(n, sequence(n))
		l, err := Cut(pieces, shopSheets, Rules{Kerf: 3, Trim: 10, Offcut: 300, Turn: true})
		if err != nil {
			t.Fatal(err)
		}
		if b := max(l.BoundArea, l.BoundDual); len(l.Sheets) < b || len(l.Sheets) > b+1 {
			t.Errorf("%d pieces: %d sheets, bound %d", n, len(l.Sheets), b)
		}
		t.Logf("%d pieces: %d sheets, bounds %d %d, yield %.1f", n, len(l.Sheets), l.BoundArea, l.BoundDual, l.Yield())
	}
}

func TestVerifyRefuses(t *testing.T) {
	pieces, stock := []Size{{400, 300}, {400, 300}}, []Size{{1000, 500}}
	rules := Rules{Kerf: 3, Trim: 10, Turn: true}
	good, err := Cut(pieces, stock, rules)
	if err != nil {
		t.Fatal(err)
	}
	for name, spoil := range map[string]func(*Layout){
		"outside the trim": func(l *Layout) { l.Sheets[0].Pieces[0].X = 5 },
		"kerf not kept":    func(l *Layout) { p := l.Sheets[0].Pieces; p[1].X, p[1].Y = p[0].X+p[0].Length+2, 10 },
		"overlap":          func(l *Layout) { l.Sheets[0].Pieces[1] = l.Sheets[0].Pieces[0]; l.Sheets[0].Pieces[1].Piece = 1 },
		"not to size":      func(l *Layout) { l.Sheets[0].Pieces[0].Length = 399 },
		"placed twice":     func(l *Layout) { l.Sheets[0].Pieces[1].Piece = 0 },
		"missing":          func(l *Layout) { l.Sheets[0].Pieces = l.Sheets[0].Pieces[:1] },
		"no stock size":    func(l *Layout) { l.Sheets[0].Size.Length = 2000 },
	} {
		l := *good
		l.Sheets = append([]Sheet(nil), good.Sheets...)
		l.Sheets[0].Pieces = append([]Placed(nil), good.Sheets[0].Pieces...)
		spoil(&l)
		if Verify(pieces, stock, rules, &l) == nil {
			t.Errorf("%s passes", name)
		}
	}
	// The classical five pieces that fill a square but that no cut from edge to
	// edge parts.
	wheel := []Size{{3, 2}, {2, 3}, {3, 2}, {2, 3}, {1, 1}}
	at := []Placed{
		{Piece: 0, X: 0, Y: 0, Length: 3, Width: 2},
		{Piece: 1, X: 3, Y: 0, Length: 2, Width: 3},
		{Piece: 2, X: 2, Y: 3, Length: 3, Width: 2},
		{Piece: 3, X: 0, Y: 2, Length: 2, Width: 3},
		{Piece: 4, X: 2, Y: 2, Length: 1, Width: 1},
	}
	five := []Size{{5, 5}}
	if Verify(wheel, five, Rules{}, &Layout{Sheets: []Sheet{{Size: five[0], Pieces: at}}}) == nil {
		t.Error("the pinwheel passes as a guillotine layout")
	}
}

func BenchmarkFiveHundred(b *testing.B) {
	pieces := invented(500, 500)
	for range b.N {
		if _, err := Cut(pieces, shopSheets, Rules{Kerf: 3, Trim: 10, Offcut: 300, Turn: true}); err != nil {
			b.Fatal(err)
		}
	}
}
