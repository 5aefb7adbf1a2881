package draw

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

// TestLook writes every invented drawing into the folder named by LOOK, for eyes
// to judge what no test can.
func TestLook(t *testing.T) {
	dir := os.Getenv("LOOK")
	if dir == "" {
		t.Skip()
	}
	before := grown(t)
	for i := range before.Plan.Plates {
		if s := detailOf(before, A4.Landscape(), i, PlannedWork(before)); s != nil && i%11 == 3 {
			see(t, filepath.Join(dir, fmt.Sprintf("grown-detail-%d.svg", i)), s)
		}
	}
	for name, v := range crowded {
		a := v.assessment()
		for _, i := range []int{len(a.Plan.Plates) / 2, len(a.Plan.Plates) - 1} {
			see(t, filepath.Join(dir, fmt.Sprintf("%s-detail-%d.svg", name, i)), detailOf(a, A4.Landscape(), i, PlannedWork(a)))
		}
	}
	for name, v := range map[string]invented{"small": small, "middle": middle, "american": american, "large": large} {
		a := v.assessment()
		t.Log(name, len(a.Inspection.Plates))
		for kind, fn := range everyPlan {
			for n, drawn := range Sheets(a, A4.Landscape(), fn) {
				see(t, filepath.Join(dir, fmt.Sprintf("%s-%s-%d.svg", name, kind, n+1)), drawn())
			}
		}
		for i := range a.Plan.Plates {
			if s := detailOf(a, A4.Landscape(), i, PlannedWork(a)); s != nil && (i%17 == 3 || i == len(a.Plan.Plates)-1 || i == 0) {
				see(t, filepath.Join(dir, fmt.Sprintf("%s-detail-%d.svg", name, i)), s)
			}
		}
		see(t, filepath.Join(dir, name+"-portrait.svg"), IndicationPlan(a, Letter.Portrait()))
		see(t, filepath.Join(dir, name+"-a3.svg"), IndicationPlan(a, A3.Landscape()))
		for kind, s := range charts(a) {
			see(t, filepath.Join(dir, name+"-"+kind+".svg"), s)
		}
		see(t, filepath.Join(dir, name+"-thumb.svg"), PhotoThumb(a, 0, 40))
	}
}

func see(t *testing.T, file string, s *Scene) {
	t.Helper()
	f, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := s.SVG(f); err != nil {
		t.Fatal(err)
	}
}
