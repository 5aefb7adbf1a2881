package pdf

import (
	"io"
	"testing"

	"platebook/render/report"
)

// largeReport is a job of 5,000 indications: the appendix table and four
// plans that show each of them.
func largeReport() *report.Report {
	r := sampleReport()
	var plans []report.Block
	for range 4 {
		plans = append(plans, report.Figure{Scene: sampleScene("indication plan", 258, 165, 5000), Caption: "Indication plan", Sheet: true})
	}
	r.Sections = append(r.Sections, report.Section{Number: 21, Name: "Plans", Blocks: plans},
		report.Section{Number: 22, Name: "Appendix", Blocks: []report.Block{sampleTable(5000, true)}})
	return r
}

func BenchmarkWriteSample(b *testing.B) {
	r := sampleReport()
	for b.Loop() {
		if _, err := Write(io.Discard, r); err != nil {
			b.Fatal(err)
		}
	}
}

type counted int64

func (c *counted) Write(p []byte) (int, error) {
	*c += counted(len(p))
	return len(p), nil
}

func BenchmarkWrite5000(b *testing.B) {
	r := largeReport()
	for b.Loop() {
		var n counted
		info, err := Write(&n, r)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(n), "file-bytes")
		b.ReportMetric(float64(info.Pages), "pages")
	}
}
