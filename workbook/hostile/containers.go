package hostile

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"unicode/utf16"
)

// compound is the head of an old office file with streams of these names.
func compound(streams ...string) []byte {
	b := append([]byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"), make([]byte, 504)...)
	for _, s := range streams {
		e := make([]byte, 128)
		for i, c := range utf16.Encode([]rune(s)) {
			binary.LittleEndian.PutUint16(e[2*i:], c)
		}
		e[64], e[66] = byte(2*len(s)+2), 2
		b = append(b, e...)
	}
	return b
}

func utf16le(s string) []byte {
	out := []byte("\xff\xfe")
	for _, u := range utf16.Encode([]rune(s)) {
		out = binary.LittleEndian.AppendUint16(out, u)
	}
	return out
}

// files are contents that are no .xlsx, by whatever name.
func files() []Case {
	const kind = "no workbook"
	of := func(name, says, content string) Case {
		return file(kind, name, 3, says, func() []byte { return []byte(content) })
	}
	at := func(name, says string, create func(path string) error) Case {
		return Case{Kind: kind, Name: name, Code: 3, Says: says, Args: light, Make: func(dir string) error { return create(filepath.Join(dir, input)) }}
	}
	return []Case{
		of("empty file", "F105: tank.xlsx is empty", ""),
		of("one byte", "F105", "P"),
		of("zeros", "F106: tank.xlsx holds zeros only", strings.Repeat("\x00", 70000)),
		of("web page", "F105: tank.xlsx is a web page named .xlsx", "<html><body><table><tr><td>=EVIL()</td></tr></table></body></html>"),
		of("web page after a mark", "F105: tank.xlsx is a web page named .xlsx", "\ufeff  <!DOCTYPE html><p>"),
		of("CSV", "F105: tank.xlsx is a CSV text named .xlsx", "Plate,Type\n3-4,sketch\n"),
		of("text", "F105: tank.xlsx is a text file named .xlsx", "Dear reader"),
		of("PDF", "F105: tank.xlsx is a PDF", "%PDF-1.7\n"),
		of("picture", "F105: tank.xlsx is a picture", "\x89PNG\r\n\x1a\n0000"),
		of("rich text", "F105: tank.xlsx is a text document", `{\rtf1 x}`),
		of("XML spreadsheet", "F105: tank.xlsx is an XML spreadsheet", `<?xml version="1.0"?><Workbook xmlns="urn:schemas-microsoft-com:office:spreadsheet"/>`),
		of("gzip", "F105: tank.xlsx is a packed archive", "\x1f\x8b\x08\x00\x00\x00\x00\x00\x00\x03"),
		of("archive of 7z", "F105: tank.xlsx is a packed archive named .xlsx", "7z\xbc\xaf\x27\x1c\x00\x04"),
		of("archive of rar", "F105: tank.xlsx is a packed archive", "Rar!\x1a\x07\x00"),
		of("mail", "F105: tank.xlsx is a web page", "MIME-Version: 1.0\r\nContent-Type: multipart/related\r\n"),
		of("where a file is kept instead", "F105: tank.xlsx is a text file", "version https://git-lfs.github.com/spec/v1\noid sha256:abc\nsize 12345\n"),
		of("old kind, without a container", "F104", "\x09\x08\x10\x00\x00\x06\x05\x00"),
		file(kind, "old kind", 3, "F104: tank.xlsx is a workbook of the old .xls kind", func() []byte { return compound("Root", "Workbook") }),
		file(kind, "encrypted", 3, "F103: tank.xlsx needs a password", func() []byte { return compound("Root", "EncryptedPackage") }),
		file(kind, "old text document", 3, "F105", func() []byte { return compound("Root", "WordDocument") }),
		file(kind, "old container cut off", 3, "F105", func() []byte { return compound()[:100] }),
		file(kind, "UTF-16 list", 3, "F105: tank.xlsx is a CSV text", func() []byte { return utf16le("Plate;X\n1;2\n") }),
		file(kind, "binary workbook", 3, "F104: tank.xlsx is a workbook of the .xlsb kind", func() []byte { return zipped(entry{"xl/workbook.bin", "x"}) }),
		file(kind, "OpenDocument", 3, "F105: tank.xlsx is an OpenDocument spreadsheet", func() []byte {
			return zipped(entry{"mimetype", "application/vnd.oasis.opendocument.spreadsheet"}, entry{"content.xml", "<a/>"})
		}),
		file(kind, "text document", 3, "F105: tank.xlsx is a text document", func() []byte { return zipped(entry{"word/document.xml", "<a/>"}) }),
		file(kind, "zip of a workbook", 3, "F105: tank.xlsx is a zip archive, but no workbook", func() []byte { return zipped(entry{"tank.xlsx", string(Base(""))}) }),
		file(kind, "empty zip", 3, "F105", func() []byte { return zipped() }),
		book(kind, "another subject", 3, "F108", "delete sheet Tank\ndelete sheet Plates\ndelete sheet Indications\n"),
		at("folder", "F105: tank.xlsx is a folder", func(p string) error { return os.Mkdir(p, 0o777) }),
		at("link to nowhere", "F101: tank.xlsx was not found", func(p string) error { return os.Symlink("nowhere", p) }),
		at("link to itself", "F101", func(p string) error { return os.Symlink(input, p) }),
		at("endless device", "F105: tank.xlsx is no file", func(p string) error { return os.Symlink("/dev/zero", p) }),
		at("pipe", "F105: tank.xlsx is no file", pipe),
		at("600 MB of nothing", "F107", func(p string) error {
			f, err := os.Create(p)
			if err != nil {
				return err
			}
			defer f.Close()
			return f.Truncate(600 << 20)
		}),
	}
}

// cut is the clean workbook broken off at twenty places.
func cut() []Case {
	var list []Case
	for i := 1; i <= 20; i++ {
		list = append(list, file("cut off", fmt.Sprintf("%d of 21 parts of the file", i), 3, "F106: tank.xlsx breaks off", func() []byte {
			b := Base("")
			return b[:len(b)*i/21]
		}))
	}
	return append(list, file("cut off", "one byte short", 3, "F106", func() []byte {
		b := Base("")
		return b[:len(b)-1]
	}))
}

// change is the clean workbook with a byte of it turned: the at-th after the
// n-th appearance of a mark.
func change(name string, code int, says, mark string, last bool, at int) Case {
	return file("damaged zip", name, code, says, func() []byte {
		b := bytes.Clone(Base(""))
		i := bytes.Index(b, []byte(mark))
		if last {
			i = bytes.LastIndex(b, []byte(mark))
		}
		b[i+at] ^= 0x5a
		return b
	})
}

// resized is a workbook with the packed size of its first part changed.
func resized(name string, code int, says string, by int) Case {
	return file("damaged zip", name, code, says, func() []byte {
		b := bytes.Clone(Base(""))
		at := bytes.Index(b, []byte("PK\x01\x02")) + 20
		binary.LittleEndian.PutUint32(b[at:], uint32(int(binary.LittleEndian.Uint32(b[at:]))+by))
		return b
	})
}

// zips are containers with wrong fields. Offsets: the ZIP application note
// (APPNOTE 6.3) 4.3.7, 4.3.12 and 4.3.16.
func zips() []Case {
	const kind, local, central, end = "damaged zip", "PK\x03\x04", "PK\x01\x02", "PK\x05\x06"
	plates := sheet("Plates")
	return []Case{
		change("first bytes", 3, "F10", local, false, 1),
		change("kind of compression in the list", 3, "F106", central, false, 10),
		file(kind, "packed in another way", 3, "F106: its zip packs", func() []byte {
			b := bytes.Clone(Base(""))
			for i := range b {
				switch {
				case bytes.HasPrefix(b[i:], []byte(local)):
					b[i+8] = 14
				case bytes.HasPrefix(b[i:], []byte(central)):
					b[i+10] = 14
				}
			}
			return b
		}),
		file(kind, "second half zeros", 3, "F106: tank.xlsx breaks off", func() []byte {
			b := bytes.Clone(Base(""))
			clear(b[len(b)/2:])
			return b
		}),
		file(kind, "line ends of another system", 3, "F106", func() []byte { return bytes.ReplaceAll(Base(""), []byte("\n"), []byte("\r\n")) }),
		change("checksum in the list", 3, "F106", central, false, 16),
		resized("packed size in the list, too small", 3, "F106", -50),
		resized("packed size in the list, too large", 0, "", 50), // its content ends where it says itself, against its checksum
		change("unpacked size in the list", 3, "F106", central, false, 24),
		change("length of a name in the list", 3, "F106", central, false, 28),
		change("place of a part in the list", 3, "F106", central, false, 42),
		change("end of the list", 3, "F106", end, true, 2),
		change("number of parts", 3, "F106", end, true, 10),
		change("size of the list", 0, "", end, true, 12),
		change("place of the list", 3, "F106", end, true, 16),
		change("content of Plates", 3, "F106: Plates", plates, false, len(plates)+300),
		change("content of the styles", 3, "F106", "xl/styles.xml", false, 13+300),
		change("content of the list of sheets", 3, "F106", "xl/workbook.xml", false, 15+100),
		change("content of a part that is only carried over", 3, "F106", "docProps/core.xml", false, 17+100),
		file(kind, "bytes after the zip", 0, "", func() []byte { return append(bytes.Clone(Base("")), "EVIL"...) }),
		file(kind, "parts that are not packed", 0, "", func() []byte { return stored(entries(Base(""))) }),
		file(kind, "two parts in one place", 3, "F106", func() []byte {
			b := bytes.Clone(Base(""))
			first, second := bytes.Index(b, []byte(central)), bytes.LastIndex(b, []byte(central))
			copy(b[second+42:second+46], b[first+42:first+46])
			return b
		}),
		file(kind, "a byte before the zip", 0, "", func() []byte { return append([]byte("PK\x03\x04"), Base("")...) }),
		file(kind, "list of the large kind", 0, "", func() []byte { return zip64(bytes.Clone(Base("")), 0) }),
		file(kind, "list of the large kind, far out", 3, "F106", func() []byte { return zip64(bytes.Clone(Base("")), 1<<62) }),
		file(kind, "program that unpacks itself", 3, "F105: tank.xlsx is a file of an unknown kind named .xlsx", func() []byte { return append([]byte("MZ"+strings.Repeat("\x00\x90", 500)), Base("")...) }),
		file(kind, "two workbooks one behind the other", 3, "F106: tank.xlsx is two files one behind the other", func() []byte { return append(bytes.Clone(Base("delete sheet Plates\n")), Base("")...) }),
		file(kind, "a workbook behind half of another", 0, "", func() []byte { return append(bytes.Clone(Base("delete sheet Plates\n"))[:9000], Base("")...) }),
		file(kind, "half a workbook behind another", 3, "F106: tank.xlsx is two files one behind the other", func() []byte { return append(bytes.Clone(Base("")), Base("delete sheet Plates\n")[:9000]...) }),
		file(kind, "a workbook in the remark of another", 3, "F106: tank.xlsx is two files one behind the other", func() []byte {
			outer, inner := bytes.Clone(Base("delete sheet Plates\n")), Base("")
			binary.LittleEndian.PutUint16(outer[len(outer)-2:], uint16(len(inner)))
			return append(outer, inner...)
		}),
		file(kind, "a workbook within a workbook", 0, "", func() []byte {
			return stored(append(entries(Base("")), entry{"xl/embeddings/other.xlsx", string(Base("delete sheet Plates\n"))}))
		}),
		put(kind, "two workbooks named", 3, "F106: tank.xlsx holds two workbooks, xl/workbook.xml and other/workbook.xml", "_rels/.rels", "</Relationships>",
			`<Relationship Id="x" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="other/workbook.xml"/></Relationships>`),
		file(kind, "zip password", 3, "F103", func() []byte {
			b := bytes.Clone(Base(""))
			for i := range b {
				if bytes.HasPrefix(b[i:], []byte(central)) {
					b[i+8] |= 1
				}
			}
			return b
		}),
		file(kind, "a sheet twice", 3, "F106: its zip holds "+plates+" twice", func() []byte {
			return rezip(Base(""), same, entry{plates, "<worksheet/>"})
		}),
		file(kind, "a sheet twice but for case", 3, "F106", func() []byte {
			return rezip(Base(""), same, entry{strings.ToUpper(plates), "<worksheet/>"})
		}),
		file(kind, "names that lead out", 0, "", func() []byte {
			return rezip(Base(""), same, entry{"../../../tmp/evil", "x"}, entry{"/etc/evil", "x"}, entry{`..\evil`, "x"})
		}),
	}
}

// bombs unpack to more than a machine has room for, or hold more than a floor
// can.
func bombs() []Case {
	const kind = "bomb"
	plates := sheet("Plates")
	of := func(name, says string, parts ...packed) Case {
		return file(kind, name, 3, says, func() []byte { return bomb(Base(""), parts...) })
	}
	// borne is one that is read to its end within the limits.
	borne := func(c Case, code int) Case {
		c.Code = code
		return c
	}
	const open, shut = "<worksheet><sheetData>", "</sheetData></worksheet>"
	spaces := strings.Repeat(" ", 1<<10)
	return []Case{
		of("a sheet of blanks", "F107", packed{plates, open, spaces, shut, 320 << 10}),
		of("a part nobody reads", "F107", packed{"xl/media/image1.bin", "", "\x00" + spaces[1:], "", 600 << 10}),
		of("three parts together", "F107: unpacks to", packed{"a", "", spaces, "", 200 << 10}, packed{"b", "", spaces, "", 200 << 10}, packed{"c", "", spaces, "", 200 << 10}),
		of("rows", "F107: Plates holds more than 200000 rows", packed{plates, open, "<row><c><v>1</v></c></row>", shut, 1 << 18}),
		borne(of("empty rows", "S106", packed{plates, open, "<row/>", shut, 1 << 20}), 1),
		of("cells", "F107", packed{plates, open, "<row>" + strings.Repeat("<c><v>1</v></c>", 64) + "</row>", shut, 1 << 17}),
		of("one text", "F106: Plates is damaged: a text or tag without end", packed{plates, open + `<row><c t="inlineStr"><is><t>`, spaces, "</t></is></c></row>" + shut, 200 << 10}),
		borne(of("styles", "C201", packed{"xl/styles.xml", "<styleSheet><cellXfs>", `<xf numFmtId="14"/>`, "</cellXfs></styleSheet>", 1 << 22}), 1),
		borne(of("properties", "", packed{"docProps/core.xml", "<a>", "<b>x</b>", "</a>", 1 << 22}), 0),
		borne(of("merged ranges", "S106", packed{plates, open + shut[:12] + "<mergeCells>", `<mergeCell ref="A1:XFD1048576"/>`, "</mergeCells></worksheet>", 1 << 20}), 1),
		file(kind, "20,001 parts", 3, "F107: holds", func() []byte {
			var more []entry
			for i := range 20_001 {
				more = append(more, entry{fmt.Sprintf("x/%d", i), ""})
			}
			return rezip(Base(""), same, more...)
		}),
		file(kind, "a size that lies", 3, "F106", func() []byte {
			b := bomb(Base(""), packed{plates, open, spaces, shut, 1 << 10})
			i := bytes.LastIndex(b, []byte(plates)) - 46
			binary.LittleEndian.PutUint32(b[i+24:], 100)
			return b
		}),
	}
}
