package draw

import (
	"strings"
	"testing"

	"platebook/rules/floor"
)

// A patch along the shell is told and measured by what is cut, not by the box
// around it along the plate.
func TestPatchAlongTheShellHasItsCutSize(t *testing.T) {
	a := invented{diameter: 15000, length: 6000, width: 1800, lap: 50}.assessment()
	box := floor.Box{U1: 3000, V1: 700, U2: 3237, V2: 1011}
	w := Work{
		Label: "R1", Kind: "patch", Plate: 0, Box: box, Boxed: true, Shape: "tombstone", Proposed: true,
		Shell: &AlongShell{Middle: floor.Point{X: 3118, Y: 850}, Length: 181, Width: 269, Clear: 77},
	}
	for _, q := range []floor.Point{{X: 3000, Y: 760}, {X: 3180, Y: 700}, {X: 3237, Y: 950}, {X: 3060, Y: 1011}} {
		at, ok := a.Plan.LocalToPlan(0, q)
		if !ok {
			t.Fatal("the plate has no place")
		}
		w.Shell.Outline = append(w.Shell.Outline, at)
	}
	text := strings.Join(parse(t, svgOf(t, detailOf(a, A4.Landscape(), 0, []Work{w}))), " ")
	for _, want := range []string{"R1 patch, tombstone, proposed by the program", "cut: 181 along the shell × 269 inward", "corners at the shell square", "centre X 3118, Y 850", "77 clear of the nearest seam"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in %s", want, text)
		}
	}
	if strings.Contains(text, "237 × 311") {
		t.Error("tells the box around the patch")
	}
}
