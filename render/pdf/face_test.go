package pdf

import (
	"bytes"
	"slices"
	"testing"

	"platebook/render/report"
)

func TestMissingLettersAreTold(t *testing.T) {
	r := &report.Report{Sections: []report.Section{{Name: "1", Blocks: []report.Block{
		report.Paragraph{Text: "≥ ≤ √ Δ σ µ ° · − – “ ” α β Łódź Иванов שלום"}, report.Paragraph{Text: "東京 서울 中国 य 😀 مرحبا"},
	}}}}
	_, info := writeForTest(t, r)
	var want []rune
	for _, c := range "य😀" {
		want = append(want, c)
	}
	slices.Sort(want)
	if want = slices.Compact(want); !slices.Equal(info.Missing, want) {
		t.Errorf("missing %q, want %q", string(info.Missing), string(want))
	}
}

// A file that is not as the writer beneath maroto leaves it is an error, never
// a broken report.
func TestForeignFilesAreRefused(t *testing.T) {
	file, _ := writeForTest(t, &report.Report{Title: "x"})
	for _, cut := range []int{0, 1, len(file) / 2, len(file) - 40} {
		if _, _, err := readObjects(file[:cut]); err == nil {
			t.Errorf("a file cut at %d of %d gave no error", cut, len(file))
		}
	}
	var out bytes.Buffer
	last := &finish{sheets: []*sheet{{}}, report: &report.Report{}}
	if err := last.write(&out, []byte("no PDF"), &pictures{}, nil); err == nil || out.Len() > 0 {
		t.Errorf("no PDF gave %v and %d bytes", err, out.Len())
	}
}
