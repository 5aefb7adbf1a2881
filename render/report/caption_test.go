package report

import "testing"

func TestCaptionOfAPlate(t *testing.T) {
	for want, d := range map[string]detailed{
		"Plate A1": {},
		"Plate A1: R1, R2, and 1 thin place without a repair":                            {works: []string{"R1", "R2"}, open: 1},
		"Plate A1: 2 places for an engineer to judge":                                    {asked: 2},
		"Plate A1: 2 thin places without a repair, and 1 place for an engineer to judge": {open: 2, asked: 1},
	} {
		if got := d.caption("A1"); got != want {
			t.Errorf("%q, not %q", got, want)
		}
	}
}
