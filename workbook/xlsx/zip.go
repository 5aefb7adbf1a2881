package xlsx

import (
	"archive/zip"
	"bytes"
	"cmp"
	"context"
	"hash/crc32"
	"io"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"

	"github.com/klauspost/compress/flate"

	"platebook/workbook/beside"
)

// zipWriter writes the parts of a package.
type zipWriter struct{ *zip.Writer }

func newZip(w io.Writer) zipWriter { return zipWriter{zip.NewWriter(w)} }

func (z zipWriter) put(name string, content []byte) error {
	p, err := packOne(func(w io.Writer) error {
		_, err := w.Write(content)
		return err
	})
	if err != nil {
		return err
	}
	return z.putPacked(name, p)
}

func (z zipWriter) putPacked(name string, p *packedPart) error {
	const version = 20 // of the format, that of deflated parts
	flags := uint16(0)
	if utf8.ValidString(name) && strings.ContainsFunc(name, func(r rune) bool { return r >= utf8.RuneSelf }) {
		flags = 1 << 11 // the name is UTF-8
	}
	w, err := z.CreateRaw(&zip.FileHeader{
		Name: name, Flags: flags, Method: zip.Deflate, CreatorVersion: version, ReaderVersion: version,
		CRC32: p.sum, CompressedSize64: uint64(p.data.Len()), UncompressedSize64: p.size,
	})
	if err != nil {
		return err
	}
	_, err = w.Write(p.data.Bytes())
	return err
}

// packedPart is a part as it stands in the zip.
type packedPart struct {
	data bytes.Buffer
	size uint64 // unpacked
	sum  uint32
	flat *flate.Writer
}

// Write packs more of the part.
func (p *packedPart) Write(b []byte) (int, error) {
	p.size += uint64(len(b))
	p.sum = crc32.Update(p.sum, crc32.IEEETable, b)
	return p.flat.Write(b)
}

// flats are compressors at rest: each holds tables of half a megabyte.
var flats = sync.Pool{New: func() any {
	w, _ := flate.NewWriter(nil, flate.BestSpeed)
	return w
}}

func packOne(fill func(io.Writer) error) (*packedPart, error) {
	p := &packedPart{flat: flats.Get().(*flate.Writer)}
	p.flat.Reset(&p.data)
	err := cmp.Or(fill(p), p.flat.Close())
	flats.Put(p.flat)
	p.flat = nil
	return p, err
}

// packAll packs parts side by side.
func packAll(ctx context.Context, fill map[string]func(io.Writer) error) (map[string]*packedPart, error) {
	names := make([]string, 0, len(fill))
	for name := range fill {
		names = append(names, name)
	}
	slices.Sort(names)
	out, failed := make([]*packedPart, len(names)), make([]error, len(names))
	beside.Run(ctx, len(names), func(i int) { out[i], failed[i] = packOne(fill[names[i]]) })
	if err := cmp.Or(append(failed, ctx.Err())...); err != nil {
		return nil, err
	}
	packed := make(map[string]*packedPart, len(names))
	for i, name := range names {
		packed[name] = out[i]
	}
	return packed, nil
}
