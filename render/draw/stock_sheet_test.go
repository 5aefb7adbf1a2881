package draw

import (
	"strings"
	"testing"

	"platebook/rules"
)

// Every piece on a stock sheet carries its mark in letters that print, one too
// small for it at the end of a leader.
func TestStockSheetsMarkEveryPiece(t *testing.T) {
	for name, a := range examples(t) {
		sheets := 0
		for g := range a.Repairs.Cutting.Groups {
			group := &a.Repairs.Cutting.Groups[g]
			for n := range group.Layout.Sheets {
				s := StockSheet(a, Sheet{Width: 170, Height: 110}, g, n)
				sheets++
				marks := map[string]bool{}
				for _, it := range s.Items {
					if l, ok := it.(Label); ok {
						mark, _, _ := strings.Cut(l.Text, " ")
						marks[mark] = true
					}
				}
				for _, p := range group.Layout.Sheets[n].Pieces {
					if label := a.Repairs.Items[group.Pieces[p.Piece].Item].Label; !marks[label] {
						t.Errorf("%s, %s: no mark on piece %s", name, s.Name, label)
					}
				}
				for _, s := range []*Scene{s, StockSheet(a, Sheet{Width: 110, Height: 60}, g, n)} {
					detailIsLegible(t, name+", "+s.Name, s)
					printable(t, s)
				}
			}
		}
		if sheets == 0 {
			t.Errorf("%s: no stock sheet", name)
		}
	}
}

// printable holds that no word prints below 5 points.
func printable(t *testing.T, s *Scene) {
	t.Helper()
	for _, it := range s.Items {
		if l, ok := it.(Label); ok && l.Size < 5*25.4/72 {
			t.Errorf("%s: %s %q is %.1f points high", s.Name, l.Class, l.Text, l.Size*72/25.4)
		}
	}
}

func TestEveryWordPrints(t *testing.T) {
	everyScene(t, func(t *testing.T, _ *rules.Assessment, s *Scene) { printable(t, s) })
}
