package report_test

import (
	"slices"
	"strings"
	"testing"

	"platebook/render/report"
	"platebook/rules/unit"
)

// What stands under Sound in the table of plates is what the note below it
// says: the median of the plate's readings, counted here from the readings.
func TestSoundColumnIsWhatItsNoteSays(t *testing.T) {
	a := judged(t, "a.xlsx", "delete sheet Photos\n")
	readings := map[string][]float64{}
	for _, r := range a.Inspection.Readings {
		if !r.Out && r.Thickness.OK() {
			readings[r.Plate.Value] = append(readings[r.Plate.Value], float64(r.Thickness.Value))
		}
	}
	checked := 0
	for _, b := range section(report.Build(a, report.Options{}), "Floor") {
		table, ok := b.(report.Table)
		if !ok || !strings.Contains(table.Note, "Sound:") {
			continue
		}
		if want := "Sound: median of the plate's sound-metal readings; nominal where there is none."; !strings.Contains(table.Note, want) {
			t.Errorf("the note %q does not say %q", table.Note, want)
		}
		sound := slices.IndexFunc(table.Columns, func(c report.Column) bool { return strings.HasPrefix(c.Head, "Sound") })
		for _, row := range table.Rows {
			v := readings[row.Cells[0]]
			if len(v) == 0 {
				continue
			}
			slices.Sort(v)
			median := (v[(len(v)-1)/2] + v[len(v)/2]) / 2
			if want := unit.Thickness.Text(a.Inspection.Units, median, 0); row.Cells[sound] != want {
				t.Errorf("plate %s: sound %s, the median of its readings is %s", row.Cells[0], row.Cells[sound], want)
			}
			checked++
		}
	}
	if checked == 0 {
		t.Error("no plate with readings was found in the table")
	}
}
