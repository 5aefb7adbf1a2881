package demo

import (
	"bytes"
	"context"
	"image/jpeg"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"platebook/rules/unit"
	"platebook/workbook/form"
)

func example(t *testing.T, system unit.System) Book {
	t.Helper()
	b, err := Example(system)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestExampleIsAsLargeAsAnnounced(t *testing.T) {
	b := example(t, unit.SI)
	for sheet, size := range map[string][2]int{
		"Plates": {85, 105}, "Indications": {200, 200}, "Prove-ups": {80, 100}, "Readings": {180, 260}, "Photos": {8, 12},
		"Fixtures": {4, 8}, "Crew": {5, 12}, "Checks": {20, 40},
	} {
		if n := len(b.Rows[sheet]); n < size[0] || n > size[1] {
			t.Errorf("%s: %d rows", sheet, n)
		}
	}
	sides := map[any]int{}
	for _, r := range b.Rows["Indications"] {
		sides[r["Side"]]++
	}
	if sides["soil"] < 80 || sides["product"] < 40 || sides["unknown"] > 10 {
		t.Errorf("sides %v", sides)
	}
}

func TestSameBytesEachTime(t *testing.T) {
	for _, system := range []unit.System{unit.SI, unit.US} {
		var out [2]bytes.Buffer
		for i := range out {
			if err := example(t, system).Write(&out[i]); err != nil {
				t.Fatal(err)
			}
		}
		if !bytes.Equal(out[0].Bytes(), out[1].Bytes()) {
			t.Errorf("%s: two writings differ", system)
		}
	}
}

func TestTwinsHaveTheSameRows(t *testing.T) {
	si, us := example(t, unit.SI), example(t, unit.US)
	for sheet, rows := range si.Rows {
		if len(rows) != len(us.Rows[sheet]) {
			t.Errorf("%s: %d rows in SI, %d in US", sheet, len(rows), len(us.Rows[sheet]))
		}
	}
	for i, r := range si.Rows["Indications"] {
		u := us.Rows["Indications"][i]
		for _, column := range []string{"ID", "Plate", "Side", "Method", "Kind", "Loss %", "By", "Date"} {
			if r[column] != u[column] {
				t.Errorf("row %d, %s: %v in SI, %v in US", i, column, r[column], u[column])
			}
		}
	}
}

func TestPicturesCanBeOpened(t *testing.T) {
	b := example(t, unit.SI)
	var cited []string
	for _, r := range b.Rows["Photos"] {
		cited = append(cited, text(r, "File"))
	}
	for _, p := range b.Photos {
		img, err := jpeg.Decode(bytes.NewReader(p.JPEG()))
		if err != nil {
			t.Errorf("%s: %v", p.Name, err)
			continue
		}
		if img.Bounds().Dx() != photoWidth || img.Bounds().Dy() != photoHeight {
			t.Errorf("%s: %v", p.Name, img.Bounds())
		}
		if !slices.Contains(cited, p.Name) {
			t.Errorf("%s is on no row", p.Name)
		}
	}
	if len(b.Photos) != len(cited) {
		t.Errorf("%d pictures, %d rows", len(b.Photos), len(cited))
	}
}

func TestWriteKeepsWhatIsThere(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "folder")
	first, err := Write(context.Background(), dir)
	if err != nil {
		t.Fatal(err)
	}
	if len(first) != 3 || filepath.Base(first[0]) != SIName || filepath.Base(first[1]) != USName || filepath.Base(first[2]) != MistakesName {
		t.Fatalf("wrote %v", first)
	}
	edited := []byte("edited by a person")
	if err := os.WriteFile(first[0], edited, 0o644); err != nil {
		t.Fatal(err)
	}
	second, err := Write(context.Background(), dir)
	if err != nil {
		t.Fatal(err)
	}
	if second[0] == first[0] {
		t.Error("the person's file was the target")
	}
	if got, err := os.ReadFile(first[0]); err != nil || !bytes.Equal(got, edited) {
		t.Errorf("the person's file is gone: %v", err)
	}
	pictures, err := os.ReadDir(filepath.Join(dir, PhotoFolder))
	if err != nil || len(pictures) != len(example(t, unit.SI).Photos) {
		t.Errorf("%d pictures, %v", len(pictures), err)
	}
}

func TestSequenceIsFixed(t *testing.T) {
	s := sequence(1)
	if a, b := s.next(), s.next(); a != 3811929328484256 || b != 4588334339901763 {
		t.Errorf("%d %d", a, b)
	}
	mean := 0.0
	for range 10_000 {
		mean += s.scatter() / 10_000
	}
	if mean < -0.05 || mean > 0.05 {
		t.Errorf("scatter around %g", mean)
	}
}

func TestBookRefusesAnUnknownHeader(t *testing.T) {
	b := form.Book{Rows: form.Entries{"Readings": {{"Plate": "1", "Thicknes": 6.3}}}}
	if err := b.Write(&bytes.Buffer{}); err == nil {
		t.Error("a value was left out in silence")
	}
}
