package workbook

import (
	"slices"
	"testing"

	"platebook/workbook/layout"
)

func headersOf[T any](slots []slot[T]) []string {
	var headers []string
	for _, s := range slots {
		headers = append(headers, s.header)
	}
	return headers
}

// Every column of the contract fills a field, and every field has a column.
func TestRecordsMatchTheLayout(t *testing.T) {
	for name, headers := range map[string][]string{
		"Tank": headersOf(tankSlots), "Plates": headersOf(plateSlots), "Indications": headersOf(indicationSlots),
		"Prove-ups": headersOf(proveUpSlots), "Readings": headersOf(readingSlots), "Tracks": headersOf(trackSlots),
		"Photos": headersOf(photoSlots), "Visual": headersOf(visualSlots), "Welds": headersOf(weldSlots),
		"Fixtures": headersOf(fixtureSlots), "Existing patches": headersOf(patchSlots), "Planned repairs": headersOf(repairSlots),
		"Settlement": headersOf(surveySlots), "Crew": headersOf(personSlots), "Instruments": headersOf(instrumentSlots),
		"Checks": headersOf(checkSlots), "Report": headersOf(sectionSlots), "Answers": headersOf(answerSlots),
	} {
		var want []string
		for _, c := range layout.Find(name).Columns {
			want = append(want, c.Header)
		}
		slices.Sort(want)
		slices.Sort(headers)
		if !slices.Equal(headers, want) {
			t.Errorf("%s: fields %q, columns %q", name, headers, want)
		}
	}
}

// Every accepted header and item is told apart from the others.
func TestVocabularyHasNoDoubles(t *testing.T) {
	for i := range layout.Sheets {
		def := &layout.Sheets[i]
		v := newVocabulary(def)
		for n := range def.Columns {
			c := &def.Columns[n]
			for _, text := range append([]string{c.Header, c.Title(0), c.Title(1)}, c.Also...) {
				if got := v.read(1, text); got.def != c {
					t.Errorf("%s: %q is read as %v", def.Name, text, got.def)
				}
			}
		}
	}
}
