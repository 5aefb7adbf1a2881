package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"platebook/render/html"
	"platebook/render/pdf"
	"platebook/render/report"
	"platebook/render/text"
	"platebook/rules"
	"platebook/rules/check"
	"platebook/rules/floor"
	"platebook/rules/repair"
	"platebook/rules/unit"
	"platebook/workbook"
	"platebook/workbook/demo"
)

// bigWorkbook writes a load-test workbook with its photos into dir.
func bigWorkbook(tb testing.TB, dir string, plates, indications, proveUps, photos int) string {
	tb.Helper()
	book, err := demo.Big(plates, indications, proveUps, photos)
	if err != nil {
		tb.Fatal(err)
	}
	return saveBig(tb, dir, book)
}

// earlierWorkbook writes the same floor as an inspection eight years before.
func earlierWorkbook(tb testing.TB, dir string, plates, indications, proveUps int) string {
	tb.Helper()
	book, err := demo.Big(plates, indications, proveUps, 0)
	if err != nil {
		tb.Fatal(err)
	}
	tank := book.Rows["Tank"][0]
	for _, item := range []string{"Inspection start", "Inspection end", "Report date"} {
		d, ok := tank[item].(unit.Date)
		if !ok {
			tb.Fatalf("%s is %T", item, tank[item])
		}
		tank[item] = d - 8*365
	}
	tank["Report number"] = "EX-2018-900"
	return saveBig(tb, dir, book)
}

func saveBig(tb testing.TB, dir string, book demo.Book) string {
	tb.Helper()
	if err := os.MkdirAll(filepath.Join(dir, demo.PhotoFolder), 0o777); err != nil {
		tb.Fatal(err)
	}
	for _, p := range book.Photos {
		if err := os.WriteFile(filepath.Join(dir, demo.PhotoFolder, p.Name), p.JPEG(), 0o666); err != nil {
			tb.Fatal(err)
		}
	}
	var b bytes.Buffer
	if err := book.Write(&b); err != nil {
		tb.Fatal(err)
	}
	path := filepath.Join(dir, "big.xlsx")
	if err := os.WriteFile(path, b.Bytes(), 0o666); err != nil {
		tb.Fatal(err)
	}
	return path
}

// bigSizes are the numbers of indications that speed is told for; one in five
// is proved up.
var bigSizes = []int{500, 5000, 50000}

const bigPlates, bigPhotos = 150, 20

// stage is one part of a job, run by itself.
type stage struct {
	name string
	run  func() error
}

// whole runs the program on args, as from a shell.
func whole(args ...string) error {
	if code := run(context.Background(), args, nil, io.Discard, io.Discard); code > exitFindings {
		return fmt.Errorf("exit code %d of %v", code, args)
	}
	return nil
}

// stagesOf are the parts of a job of n indications, the whole job last.
func stagesOf(tb testing.TB, n int) []stage {
	tb.Helper()
	dir := tb.TempDir()
	path := bigWorkbook(tb, dir, bigPlates, n, n/5, bigPhotos)
	j := &job{t: newTalk(io.Discard, io.Discard), path: path}
	if err := j.read(context.Background()); err != nil {
		tb.Fatal(err)
	}
	in := j.book.Inspection
	photos := j.album.photos(in.Photos)
	out := func(name string) string { return filepath.Join(dir, name) }
	return []stage{
		{"read", func() error {
			_, err := workbook.Open(context.Background(), path, workbook.Options{})
			return err
		}},
		{"check", func() error {
			check.Values(in)
			check.Rows(in, floor.Place(in), j.album)
			return nil
		}},
		{"assess and repairs", func() error {
			repair.Assess(in, j.a.Plan)
			return nil
		}},
		{"results workbook", func() error {
			a := rules.Assess(in, j.book.Hits, j.album)
			_, err := workbook.WriteResults(context.Background(), j.book, out("stage.results.xlsx"), a, j.record())
			return err
		}},
		{"PDF report", func() error {
			a := rules.Assess(in, j.book.Hits, j.album)
			f, err := os.Create(out("stage.pdf"))
			if err != nil {
				return err
			}
			if _, err = pdf.Write(f, report.Build(a, report.Options{Version: version, Photos: photos})); err != nil {
				return err
			}
			return f.Close()
		}},
		{"floor page", func() error { return html.Write(io.Discard, j.a, html.Options{Version: version}) }},
		{"JSON", func() error {
			return text.JSON(io.Discard, j.a, text.Program{Version: version, Rules: rules.Version}, text.Made(), false, true)
		}},
		{"`check`, whole", func() error { return whole("check", "--quiet", "--limit", "1", path) }},
		{"`run`, whole", func() error {
			return whole("run", "--quiet", "--limit", "1", "--only", "xlsx,pdf,html,json", path)
		}},
	}
}

// BenchmarkStages is each part of a job by itself, and the whole job with all
// outputs: go test -bench Stages/5000 ./cmd/platebook.
func BenchmarkStages(b *testing.B) {
	for _, n := range bigSizes {
		b.Run(strconv.Itoa(n), func(b *testing.B) {
			for _, s := range stagesOf(b, n) {
				b.Run(s.name, func(b *testing.B) {
					b.ReportAllocs()
					for b.Loop() {
						if err := s.run(); err != nil {
							b.Fatal(err)
						}
					}
				})
			}
		})
	}
}

// batchFolder makes files of 500 indications each in dir.
func batchFolder(tb testing.TB, dir string, files int) {
	tb.Helper()
	for i := range files {
		bigWorkbook(tb, filepath.Join(dir, fmt.Sprintf("tank %02d", i+1)), bigPlates, 500, 100, 0)
	}
}

// BenchmarkBatch is a folder of workbooks by one worker and by two.
func BenchmarkBatch(b *testing.B) {
	dir := b.TempDir()
	batchFolder(b, dir, 6)
	for _, jobs := range []string{"1", "2"} {
		b.Run("jobs "+jobs, func(b *testing.B) {
			for b.Loop() {
				if err := whole("batch", "--quiet", "--jobs", jobs, dir); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
