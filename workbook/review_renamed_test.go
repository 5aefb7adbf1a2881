package workbook

import (
	"bytes"
	"fmt"
	"html"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"platebook/rules/finding"
)

func TestReviewOfARenamedSheet(t *testing.T) {
	path := resultsOf(t, example(t, 0))
	r := reviewOf(t, rezipped(t, path, "renamed.results.xlsx", func(part string, text []byte) []byte {
		if part == "docProps/custom.xml" {
			return text // as a spreadsheet program leaves it
		}
		text = regexp.MustCompile(`<f>[^<]*</f>`).ReplaceAllFunc(text, func(f []byte) []byte {
			return bytes.ReplaceAll(f, []byte("Plate results"), []byte("Plates, checked"))
		})
		return bytes.ReplaceAll(text, []byte(`name="Plate results"`), []byte(`name="Plates, checked"`))
	}))
	if len(r.Differences) != 1 || r.Differences[0].Stored != "the sheet, called Plates, checked" {
		t.Errorf("%d: %+v", len(r.Differences), r.Differences[:min(5, len(r.Differences))])
	}
}

// A sheet that is gone is one difference, whatever read it; the inputs are
// those of the results.
func TestReviewOfADeletedSheet(t *testing.T) {
	path := resultsOf(t, example(t, 0))
	gone := regexp.MustCompile(`<sheet [^>]*name="Plate results"[^>]*/>`)
	reads := regexp.MustCompile(`<f>([^<]*(?:'|&apos;|&#39;)Plate results(?:'|&apos;|&#39;)![^<]*)</f><v>[^<]*</v>`)
	r := reviewOf(t, rezipped(t, path, "deleted.results.xlsx", func(part string, text []byte) []byte {
		if part == "xl/workbook.xml" {
			text = gone.ReplaceAll(text, nil)
			text = regexp.MustCompile(`<definedName[^>]*>[^<]*Plate results[^<]*</definedName>`).ReplaceAll(text, nil)
			return regexp.MustCompile(` localSheetId="\d+"`).ReplaceAll(text, nil)
		}
		return reads.ReplaceAll(text, []byte("<f>#REF!+1</f><v>0</v>"))
	}))
	if len(r.Differences) != 1 || r.Differences[0].Ref != (finding.Ref{Sheet: "Plate results"}) || !strings.Contains(r.Differences[0].Recomputed, "not compared") || r.Inputs.Changed() {
		t.Errorf("%d: %+v", len(r.Differences), r.Differences[:min(5, len(r.Differences))])
	}
}

// Sorted rows of results are told once, and with them what really differs.
func TestReviewOfSortedRows(t *testing.T) {
	path := resultsOf(t, example(t, 0))
	const a, b = 20, 33
	moved := func(row string, from, to int) string {
		row = strings.Replace(row, fmt.Sprintf(`<row r="%d"`, from), fmt.Sprintf(`<row r="%d"`, to), 1)
		row = regexp.MustCompile(`(<c r="[A-Z]+)`+strconv.Itoa(from)+`"`).ReplaceAllString(row, `${1}`+strconv.Itoa(to)+`"`)
		return regexp.MustCompile(`<f>[^<]*</f>`).ReplaceAllStringFunc(row, func(f string) string {
			return "<f>" + html.EscapeString(shifted(html.UnescapeString(f[3:len(f)-4]), "Indication results", from, to)) + "</f>"
		})
	}
	sorted := func(then func(row string) string) string {
		return rezipped(t, path, "sorted.results.xlsx", func(part string, text []byte) []byte {
			if part != "xl/worksheets/platebooksheet5.xml" {
				return text
			}
			row := func(n int) string {
				return string(regexp.MustCompile(fmt.Sprintf(`(?s)<row r="%d".*?</row>`, n)).Find(text))
			}
			first, second := row(a), row(b)
			if first == "" || second == "" {
				t.Fatal("no such rows")
			}
			s := strings.Replace(string(text), first, "@", 1)
			s = strings.Replace(s, second, then(moved(first, a, b)), 1)
			return []byte(strings.Replace(s, "@", moved(second, b, a), 1))
		})
	}
	r := reviewOf(t, sorted(func(row string) string { return row }))
	if len(r.Differences) != 1 || r.Differences[0].What != "the rows of sheet Indication results" || r.Differences[0].Stored != "2 rows in another place" {
		t.Errorf("%d differences", len(r.Differences))
		for _, d := range r.Differences[:min(12, len(r.Differences))] {
			t.Log(d.Ref, d.What, "|", d.Stored, "|", d.Recomputed)
		}
	}
	number := regexp.MustCompile(`(<c r="P33"[^>]*>(?:<f>[^<]*</f>)?<v>)[^<]*`)
	r = reviewOf(t, sorted(func(row string) string { return number.ReplaceAllString(row, "${1}77") }))
	if len(r.Differences) != 2 || r.Differences[1].Ref.Cell() != "P33" {
		t.Errorf("with one retyped: %+v", r.Differences)
	}
}
