package repair

import (
	"math"
	"strings"
	"testing"

	"platebook/rules/floor"
)

// A tombstone on a plate that lies at a skew to the shell is read along it, from
// the shell inward. Derived: a pit of 20 × 20 about a place 100 mm from the shell,
// turned by 0.6 radians to it, reaches 10·(sin 0.6 + cos 0.6) = 13.9 mm further in,
// and its overlap 50 mm more, to 163.9 mm.
func TestTombstoneOnASketchPlate(t *testing.T) {
	const bearing = 0.6 // radians
	place := func(b *builder, fromShell float64) (x, y float64) {
		s, c := math.Sincos(bearing)
		return b.at(t, "2-1", floor.Point{X: -(10000 - fromShell) * c, Y: -(10000 - fromShell) * s})
	}
	item := func(width, shift float64) *Item {
		b := wide().desired(10)
		x, y := place(b, 100)
		b.pit("1", "2-1", x, y, 20, 20, 2.9)
		x, y = place(b, width/2+shift)
		_, r := b.repair("P1", "patch", "2-1", x, y, 300, width, 6, Tombstone).assess()
		return r.Item("P1")
	}
	it := item(250, 0)
	passes(t, it, map[string]bool{"critical.tombstone": true, "patch.inside": true, "critical.length": true})
	near1(t, "weld at the shell", float64(it.ShellWeld), 300, 1e-9)
	if len(it.IDs) != 1 {
		t.Errorf("it covers the pit: %v", it.IDs)
	}
	if it = item(160, 0); len(it.IDs) != 0 {
		t.Errorf("160 mm inward do not reach over a pit to 114 mm and the overlap of 50: %v", it.IDs)
	}
	// within Position tolerance it is taken to stand at the shell, and says so
	for _, shift := range []float64{-25, 25} {
		it = item(250, shift)
		passes(t, it, map[string]bool{"critical.tombstone": true, "patch.inside": true})
		near1(t, "weld at the shell", float64(it.ShellWeld), 300, 1e-9)
		if c := check(t, it, "critical.tombstone"); !strings.Contains(c.Note, "25 mm off the shell") {
			t.Errorf("%+v", c)
		}
	}
	passes(t, item(250, 26), map[string]bool{"critical.tombstone": false})
	passes(t, item(250, -26), map[string]bool{"patch.inside": false})
}

// A tombstone found at the shell is read along it as a planned one, and the clear
// metal between the two with it. Derived: 600 and 300 long, 200 inward, they need
// 100 mm between their inner corners, where 103 mm along the shell are 9800/10000 of
// it.
func TestTombstoneFoundBesideAPlannedOne(t *testing.T) {
	place := func(b *builder, along float64) (x, y float64) {
		s, c := math.Sincos(0.6 + along/10000)
		return b.at(t, "2-1", floor.Point{X: -9900 * c, Y: -9900 * s})
	}
	item := func(clear float64) *Item {
		b := wide().desired(10)
		x, y := place(b, 0)
		b.old("E1", "2-1", x, y, 600, 200)
		b.in.Patches[0].Shape = given(b, Tombstone)
		x, y = place(b, 450+clear)
		_, r := b.repair("P1", "patch", "2-1", x, y, 300, 200, 6, Tombstone).assess()
		return r.Item("P1")
	}
	for clear, ok := range map[float64]bool{103: true, 101: false} {
		it := item(clear)
		passes(t, it, map[string]bool{"critical.spacing": ok, "critical.patch_on_patch": true})
		near1(t, "clear metal", float64(check(t, it, "critical.spacing").Value.V), clear*0.98, 0.05)
	}
	passes(t, item(-20), map[string]bool{"critical.spacing": false, "critical.patch_on_patch": false})
}
