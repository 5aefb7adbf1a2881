package nest

import "testing"

// wholly cuts n pieces from one sheet, edge to edge at random, so that with the
// kerf between them nothing of it is left.
func wholly(d *sequence, sheet Size, n int, kerf float64) []Size {
	const shortest = 20
	out := []Size{sheet}
	for len(out) < n {
		i := d.next(len(out))
		s := &out[i]
		side, rest := &s.Length, Size{Width: s.Width}
		if d.next(2) == 0 {
			side, rest = &s.Width, Size{Length: s.Length}
		}
		room := int(*side-kerf) - 2*shortest
		if room <= 0 {
			continue
		}
		first := float64(shortest + d.next(room+1))
		last := *side - kerf - first
		*side = first
		if rest.Length == 0 {
			rest.Length = last
		} else {
			rest.Width = last
		}
		out = append(out, rest)
	}
	return out
}

// Derived: pieces that were cut from m whole sheets without waste need m, no
// fewer and no more. Up to twelve pieces that is found; of more, one sheet over.
func TestPiecesOfWholeSheets(t *testing.T) {
	sheet := Size{1220, 800}
	for _, c := range []struct{ sheets, each int }{
		{1, 12}, {2, 6}, {3, 4}, {4, 3}, {6, 2}, {12, 1}, {1, 40}, {2, 20}, {3, 10}, {5, 5}, {10, 12}, {4, 100},
	} {
		for seed := range sequence(4) {
			kerf := float64(3 * (seed % 2))
			rules := Rules{Kerf: kerf, Trim: 10, Turn: seed < 2, Effort: 3_000_000}
			inside := Size{sheet.Length - 2*rules.Trim, sheet.Width - 2*rules.Trim}
			d := sequence(100*c.sheets+c.each) + seed
			var pieces []Size
			for range c.sheets {
				pieces = append(pieces, wholly(&d, inside, c.each, kerf)...)
			}
			most := c.sheets
			if len(pieces) > 12 {
				most++
			} else {
				rules.Effort = 0
			}
			l, err := Cut(pieces, []Size{sheet}, rules)
			if err != nil {
				t.Fatal(err)
			}
			if n := len(l.Sheets); n < c.sheets || n > most || len(l.TooLarge) > 0 {
				t.Errorf("%d sheets in %d pieces each, kerf %v, turning %v: %d sheets", c.sheets, c.each, kerf, rules.Turn, n)
			}
			if b := max(l.BoundArea, l.BoundDual); b > c.sheets {
				t.Errorf("%d sheets in %d pieces each: bound %d", c.sheets, c.each, b)
			}
		}
	}
}

// Twelve pieces, all different, are still solved completely.
func TestTwelvePiecesExactly(t *testing.T) {
	var pieces []Size
	for i := range 12 {
		pieces = append(pieces, Size{float64(310 + 17*i), float64(460 - 13*i)})
	}
	for _, turn := range []bool{false, true} {
		j := newJob(pieces, []Size{{1220, 800}}, Rules{Kerf: 3, Turn: turn})
		j.sift(&Layout{})
		p, ok := j.exact(min(mostPairs, DefaultEffort/perPair))
		if !ok {
			t.Fatal("twelve pieces are not solved")
		}
		l, err := Cut(pieces, []Size{{1220, 800}}, Rules{Kerf: 3, Turn: turn})
		if err != nil || len(l.Sheets) != len(p.bins) {
			t.Errorf("turning %v: %d sheets, exact %d, %v", turn, len(l.Sheets), len(p.bins), err)
		}
	}
}
