package xlsx

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"io"
	"slices"

	"platebook/workbook/beside"
)

// VerifyCopy opens a file written by WriteWith and holds it against the
// original: every sheet of the person's must be there, unchanged cell for
// cell. A sheet's part, the shared texts and every other part that was not
// edited must be the same packed bytes; the styles that the person's cells
// refer to must mean the same.
func (b *Book) VerifyCopy(ctx context.Context, path string, d *Draft, replace []string) error {
	c, err := Open(path)
	if err != nil {
		return err
	}
	if c.Date1904 != b.Date1904 || c.Macros {
		return fmt.Errorf("the copy's date system or macros differ")
	}
	at := 0
	for _, s := range b.Sheets {
		if slices.Contains(replace, s.Name) {
			continue
		}
		if at >= len(c.Sheets) || c.Sheets[at].Name != s.Name || c.Sheets[at].Visibility != s.Visibility {
			return fmt.Errorf("sheet %s is not in its place", s.Name)
		}
		if err := samePart(b.pkg, s.part, c.pkg, c.Sheets[at].part); err != nil {
			return fmt.Errorf("sheet %s: %w", s.Name, err)
		}
		at++
	}
	if err := c.wholeSheets(ctx, d.sheets, at); err != nil {
		return err
	}
	at += len(d.sheets)
	if at != len(c.Sheets) {
		return fmt.Errorf("the copy has %d sheets, not %d", len(c.Sheets), at)
	}
	if texts := find(b.pkg.rels, "sharedStrings"); texts != "" && b.pkg.has(texts) {
		if err := samePart(b.pkg, texts, c.pkg, find(c.pkg.rels, "sharedStrings")); err != nil {
			return fmt.Errorf("the shared texts: %w", err)
		}
	}
	if len(c.pkg.styles) < len(b.pkg.styles) || !slices.Equal(c.pkg.styles[:len(b.pkg.styles)], b.pkg.styles) {
		return fmt.Errorf("the styles of the person's cells changed")
	}
	return nil
}

// wholeSheets says whether the sheets of a draft stand behind the first few,
// each of them whole.
func (b *Book) wholeSheets(ctx context.Context, sheets []*NewSheet, from int) error {
	failed := make([]error, len(sheets))
	beside.Run(ctx, len(sheets), func(i int) {
		if s := sheets[i]; from+i >= len(b.Sheets) || b.Sheets[from+i].Name != s.Name {
			failed[i] = fmt.Errorf("result sheet %s is missing", s.Name)
		} else if err := b.pkg.whole(b.Sheets[from+i].part); err != nil {
			failed[i] = fmt.Errorf("result sheet %s: %w", s.Name, err)
		}
	})
	return cmp.Or(append(failed, ctx.Err())...)
}

// whole unpacks a part to its end, against its checksum.
func (p *pack) whole(name string) error {
	rc, err := p.open(name)
	if err != nil {
		return err
	}
	defer rc.Close()
	_, err = io.Copy(io.Discard, rc)
	return err
}

func samePart(p *pack, name string, q *pack, other string) error {
	f, g := p.parts[fold(name)], q.parts[fold(other)]
	if f == nil || g == nil {
		return fmt.Errorf("the part %s is missing", name)
	}
	a, err := packed(p, name)
	if err != nil {
		return err
	}
	b, err := packed(q, other)
	if err != nil {
		return err
	}
	if f.CRC32 != g.CRC32 || f.Method != g.Method || !bytes.Equal(a, b) {
		return fmt.Errorf("the part %s changed", name)
	}
	return nil
}

// packed is the compressed content of a part where it lies in the file.
func packed(p *pack, name string) ([]byte, error) {
	f := p.parts[fold(name)]
	at, err := f.DataOffset()
	if err != nil {
		return nil, err
	}
	end := at + int64(f.CompressedSize64)
	if at < 0 || end < at || end > int64(len(p.data)) {
		return nil, fmt.Errorf("the part %s lies outside the file", name)
	}
	return p.data[at:end], nil
}
