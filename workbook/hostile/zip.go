package hostile

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"hash/crc32"
	"io"
)

// entry is one part of a zip.
type entry struct{ name, text string }

// entries are the parts of a zip in their order.
func entries(data []byte) []entry {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		panic(err)
	}
	var list []entry
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			panic(err)
		}
		b, err := io.ReadAll(r)
		if err != nil {
			panic(err)
		}
		list = append(list, entry{f.Name, string(b)})
	}
	return list
}

func zipped(list ...entry) []byte {
	return zippedBy(list, func(w *zip.Writer, e entry) (io.Writer, error) { return w.Create(e.name) })
}

// zippedBy is a zip whose parts begin as told.
func zippedBy(list []entry, begin func(*zip.Writer, entry) (io.Writer, error)) []byte {
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, e := range list {
		f, err := begin(w, e)
		if err == nil {
			_, err = io.WriteString(f, e.text)
		}
		if err != nil {
			panic(err)
		}
	}
	if err := w.Close(); err != nil {
		panic(err)
	}
	return out.Bytes()
}

// stored is a zip whose parts are not packed, with their sizes before them.
func stored(list []entry) []byte {
	return zippedBy(list, func(w *zip.Writer, e entry) (io.Writer, error) {
		return w.CreateRaw(&zip.FileHeader{
			Name: e.name, Method: zip.Store, CRC32: crc32.ChecksumIEEE([]byte(e.text)),
			CompressedSize64: uint64(len(e.text)), UncompressedSize64: uint64(len(e.text)),
		})
	})
}

// rezip writes a zip anew with each part changed, left out or doubled.
func rezip(data []byte, change func(entry) []entry, more ...entry) []byte {
	var list []entry
	for _, e := range entries(data) {
		list = append(list, change(e)...)
	}
	return zipped(append(list, more...)...)
}

func same(e entry) []entry { return []entry{e} }

// packed is a part of a pattern repeated, compressed without being held.
type packed struct {
	name, before, pattern, after string
	times                        int
}

// bomb is a workbook with parts that unpack to much more than they take. A
// part of the same name is replaced.
func bomb(data []byte, parts ...packed) []byte {
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	made := map[string]bool{}
	for _, p := range parts {
		made[p.name] = true
	}
	for _, e := range entries(data) {
		if made[e.name] {
			continue
		}
		f, err := w.Create(e.name)
		if err != nil {
			panic(err)
		}
		_, _ = io.WriteString(f, e.text)
	}
	for _, p := range parts {
		var body bytes.Buffer
		c, _ := flate.NewWriter(&body, flate.BestSpeed)
		sum, size := crc32.NewIEEE(), uint64(0)
		t := io.MultiWriter(c, sum)
		write := func(s string) {
			n, _ := io.WriteString(t, s)
			size += uint64(n)
		}
		write(p.before)
		chunk, n := p.pattern, p.times
		for len(chunk) < 1<<16 && n%2 == 0 && n > 1 {
			chunk, n = chunk+chunk, n/2
		}
		for range n {
			write(chunk)
		}
		write(p.after)
		_ = c.Close()
		f, err := w.CreateRaw(&zip.FileHeader{
			Name: p.name, Method: zip.Deflate, CRC32: sum.Sum32(),
			CompressedSize64: uint64(body.Len()), UncompressedSize64: size,
		})
		if err != nil {
			panic(err)
		}
		_, _ = f.Write(body.Bytes())
	}
	if err := w.Close(); err != nil {
		panic(err)
	}
	return out.Bytes()
}
