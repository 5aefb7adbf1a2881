package draw

import (
	"os"
	"path/filepath"
	"testing"

	"platebook/rules"
)

func TestLook(t *testing.T) {
	dir := os.Getenv("LOOK")
	if dir == "" {
		t.Skip()
	}
	for name, v := range map[string]invented{"small": small, "middle": middle, "large": large} {
		a := v.assessment()
		t.Log(name, len(a.Inspection.Plates))
		for kind, fn := range map[string]func(*rules.Assessment, Sheet) *Scene{"plate": PlatePlan, "indication": IndicationPlan} {
			f, err := os.Create(filepath.Join(dir, name+"-"+kind+".svg"))
			if err != nil {
				t.Fatal(err)
			}
			if err := fn(a, A4.Landscape()).SVG(f); err != nil {
				t.Fatal(err)
			}
			f.Close()
		}
	}
}
