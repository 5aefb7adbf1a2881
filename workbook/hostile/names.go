package hostile

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color/palette"
	"image/gif"
	"image/jpeg"
	pngs "image/png"
	"os"
	"path/filepath"
	"strings"
)

// folder is a case of a workbook with files beside it.
func folder(kind, name string, code int, says string, args []string, make func(edits string) []byte, edits string, more func(dir string) error) Case {
	return Case{Kind: kind, Name: name, Code: code, Says: says, Args: args, Make: func(dir string) error {
		if err := os.WriteFile(filepath.Join(dir, input), make(edits), 0o666); err != nil || more == nil {
			return err
		}
		return more(dir)
	}}
}

func put1(name string, data []byte) func(string) error {
	return func(dir string) error { return os.WriteFile(filepath.Join(dir, name), data, 0o666) }
}

func picture() []byte {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 8, 8)), nil); err != nil {
		panic(err)
	}
	return b.Bytes()
}

// png is the head of a PNG picture of a given size, without its content.
func png(width, height uint32) []byte {
	head := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32([]byte("IHDR"), width), height)
	head = append(head, 8, 6, 0, 0, 0)
	out := append([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0d"), head...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(head))
}

// photos are names of pictures that lead elsewhere, and pictures that are none.
func photos() []Case {
	const kind = "photos"
	named := func(name, says, file string) Case {
		return folder(kind, name, Any, says, whole, edited, photoSheet(file), nil)
	}
	of := func(name, says string, data []byte) Case {
		return folder(kind, name, Any, says, whole, edited, photoSheet("a.jpg"), put1("a.jpg", data))
	}
	// drawn is one whose picture takes time to make: only when it is asked for.
	drawn := func(name, says string, data func() []byte) Case {
		return folder(kind, name, Any, says, whole, edited, photoSheet("a.jpg"), func(dir string) error { return put1("a.jpg", data())(dir) })
	}
	made := func(name, says, file string, more func(dir string) error) Case {
		return folder(kind, name, Any, says, whole, edited, photoSheet(file), more)
	}
	big := picture()
	if i := bytes.Index(big, []byte{0xff, 0xc0}); i > 0 {
		big = bytes.Clone(big)
		copy(big[i+5:], []byte{0xff, 0xdc, 0xff, 0xdc}) // 65,500 by 65,500
	}
	exif := append([]byte{0xff, 0xd8, 0xff, 0xe1, 0xff, 0xff}, append([]byte("Exif\x00\x00II*\x00\x08\x00\x00\x00"), bytes.Repeat([]byte{0xff}, 65519)...)...)
	return []Case{
		named("path out", "R109: ../secret.jpg leads out of the workbook's folder", "../secret.jpg"),
		named("path out and in", "leads out of the workbook's folder", "photos/../../secret.jpg"),
		named("path out with backslashes", "leads out of the workbook's folder", `..\..\secret.jpg`),
		named("absolute path", "R109: /etc/passwd is an absolute path", "/etc/passwd"),
		named("drive", "holds a colon", `C:\Windows\win.ini`),
		named("drive without a root", "holds a colon", "C:x.jpg"),
		named("other machine", "is an absolute path", `\\server\share\x.jpg`),
		named("device", "R109: CON is a device to Windows", "CON"),
		named("device with an ending", "R109: NUL.jpg is a device to Windows", "NUL.jpg"),
		named("device with a number", "R109: photos/COM1.png is a device to Windows", "photos/COM1.png"),
		named("stream of a file", "holds a colon", "tank.xlsx::$DATA"),
		named("page", "holds a colon", "http://evil.example/x.jpg"),
		named("file address", "holds a colon", "file:///etc/passwd"),
		named("the workbook itself", "tank.xlsx is a workbook, document or zip archive", input),
		named("device with a blank", "R109: aux .jpg is a device to Windows", "aux .jpg"),
		named("full stop at the end", "holds a blank or full stop at the end of a name", "tank.xlsx."),
		named("blank at the end of a folder", "holds a blank or full stop at the end of a name", "photos /a.jpg"),
		named("letters no file on Windows has", "R109: a?.jpg not found", "a?.jpg"),
		named("name of 5,000 letters", "R", strings.Repeat("x", 5000)+".jpg"),
		named("control character in a name", "R", "a_x0002_.jpg"),
		named("formula as a name", "R", `=EVIL().jpg`),
		made("link out", "is or holds a link that leads out of", "a.jpg", func(dir string) error {
			return os.Symlink("/etc/passwd", filepath.Join(dir, "a.jpg"))
		}),
		made("folder that is a link out", "is or holds a link that leads out of", "pics/passwd", func(dir string) error {
			return os.Symlink("/etc", filepath.Join(dir, "pics"))
		}),
		made("link that goes round", "is or holds a link", "a.jpg", func(dir string) error {
			return os.Symlink("a.jpg", filepath.Join(dir, "a.jpg"))
		}),
		made("folder named as a picture", "R109: a.jpg is a folder", "a.jpg", func(dir string) error { return os.Mkdir(filepath.Join(dir, "a.jpg"), 0o777) }),
		made("pipe named as a picture", "R109: a.jpg is no plain file", "a.jpg", func(dir string) error { return pipe(filepath.Join(dir, "a.jpg")) }),
		of("zeros named as a picture", "R109: a.jpg holds zeros only", make([]byte, 5000)),
		of("film named as a picture", "R109: a.jpg is a film", append([]byte("\x00\x00\x00\x18ftypmp42"), make([]byte, 2000)...)),
		of("empty picture", "R109: a.jpg is empty: a file of 0 bytes", nil),
		of("text named as a picture", "R109: a.jpg is no JPEG, PNG or HEIC", []byte("EVIL")),
		of("picture cut off", "R109: a.jpg is damaged or cut off", picture()[:len(picture())/2]),
		of("head of a picture alone", "R109: a.jpg is damaged or cut off", []byte{0xff, 0xd8, 0xff}),
		of("picture of 65,500 by 65,500", "has 65500 × 65500 pixels, 4291 million; the limit for a photo is 120 million", big),
		of("PNG of 2,000,000,000 by 2,000,000,000", "R", png(2e9, 2e9)),
		of("PNG of 30,000 by 30,000", "has 30000 × 30000 pixels, 900 million", png(30000, 30000)),
		of("PNG of 0 by 0", "R", png(0, 0)),
		of("camera data that go nowhere", "R", exif),
		of("camera data that go round", "", exifLoop()),
		of("CMYK picture", "0 errors, 0 open warnings", cmyk(true)),
		of("CMYK picture, its colours not told", "a.jpg is a JPEG of a kind that is not read", cmyk(false)),
		of("picture of 16 bits a colour, named otherwise", "", deepPNG()),
		folder(kind, "3,000 rows of one photo", Any, "0 errors", whole, edited, "delete row Photos!3\ndelete row Photos!2\n"+strings.Repeat("append Photos | a.jpg | 2-2 | 1600 | 900\n", 3000), put1("a.jpg", picture())),
		made("accents as a Mac stores them", "0 errors, 0 open warnings", "Gr\u00f6\u00dfe.jpg", put1("Gro\u0308\u00dfe.jpg", picture())),
		drawn("picture of 12,000 by 12,000, whole", "a.jpg has 12000 × 12000 pixels, 144 million; the limit for a photo is 120 million", func() []byte { return blackPNG(12_000, false) }),
		drawn("picture of 10,900 by 10,900, whole", "0 errors", func() []byte { return blackPNG(10_900, false) }),
		drawn("picture of 8,700 by 8,700 and 16 bits a colour", "a.jpg has 8700 × 8700 pixels of 8 bytes, 606 MB in memory", func() []byte { return blackPNG(8_700, true) }),
		of("GIF that moves, named otherwise", "R109: a.jpg is a GIF picture", movingGIF()),
		of("camera data of 4,000,000,000 entries", "", exif4e9()),
		made("link to an endless device", "is or holds a link that leads out of", "a.jpg", func(dir string) error {
			return os.Symlink("/dev/zero", filepath.Join(dir, "a.jpg"))
		}),
		of("HEIC of nothing", "R109: a.jpg is damaged or cut off", append([]byte("\x00\x00\x00\x18ftypheic"), make([]byte, 2000)...)),
		of("drawing with a script", "R109: a.jpg is an SVG drawing", []byte(`<svg xmlns="http://www.w3.org/2000/svg"><script>EVIL()</script></svg>`)),
	}
}

// exifLoop is a picture whose camera data name themselves as what follows.
func exifLoop() []byte {
	p := picture()
	tiff := "II*\x00\x08\x00\x00\x00" + "\x01\x00" + "\x69\x87\x04\x00\x01\x00\x00\x00\x08\x00\x00\x00" + "\x08\x00\x00\x00"
	head := append([]byte{0xff, 0xd8, 0xff, 0xe1, 0, byte(2 + 6 + len(tiff))}, "Exif\x00\x00"+tiff...)
	return append(head, p[2:]...)
}

// exif4e9 is a picture whose camera data tell a text of 4,000,000,000 letters.
func exif4e9() []byte {
	p := picture()
	tiff := "II*\x00\x08\x00\x00\x00" + "\xff\xff" + strings.Repeat("\x0f\x01\x02\x00\x00\x00\xff\xee\x08\x00\x00\x00", 5)
	head := append([]byte{0xff, 0xd8, 0xff, 0xe1, 0, byte(2 + 6 + len(tiff))}, "Exif\x00\x00"+tiff...)
	return append(head, p[2:]...)
}

func movingGIF() []byte {
	var g gif.GIF
	for range 3 {
		g.Image, g.Delay = append(g.Image, image.NewPaletted(image.Rect(0, 0, 8, 8), palette.Plan9)), append(g.Delay, 1)
	}
	var b bytes.Buffer
	if err := gif.EncodeAll(&b, &g); err != nil {
		panic(err)
	}
	return b.Bytes()
}

// cmyk is a picture of four colours, eight pixels square and evenly half of
// each; adobe says with the words that a program of that name writes how they
// are meant, without which nobody can know.
//
// Source: ITU-T T.81, annex B (SOF0, SOS) and K.3: a block that does not differ
// from the one before is 00 (no difference) and 1010 (end of block).
func cmyk(adobe bool) []byte {
	p := picture()
	sof, sos := bytes.Index(p, []byte{0xff, 0xc0}), bytes.Index(p, []byte{0xff, 0xda})
	out := bytes.Clone(p[:sof])
	if adobe {
		out = append(out, "\xff\xee\x00\x0eAdobe\x00\x64\x00\x00\x00\x00\x00"...)
	}
	out = append(out, 0xff, 0xc0, 0, 20, 8, 0, 8, 0, 8, 4, 1, 0x11, 0, 2, 0x11, 0, 3, 0x11, 0, 4, 0x11, 0)
	out = append(out, p[sof+2+(int(p[sof+2])<<8|int(p[sof+3])):sos]...)
	out = append(out, 0xff, 0xda, 0, 14, 4, 1, 0, 2, 0, 3, 0, 4, 0, 0, 63, 0)
	return append(out, 0b00101000, 0b10100010, 0b10001010, 0xff, 0xd9)
}

func deepPNG() []byte { return encoded(image.NewNRGBA64(image.Rect(0, 0, 64, 64))) }

// blackPNG is a large picture that packs to little, written row by row: grey of
// 8 bits, or of 16 bits a colour and clear.
//
// Source: PNG (ISO/IEC 15948) 5.6, 11.2.2 to 11.2.5, colour types 0 and 6.
func blackPNG(side int, deep bool) []byte {
	var rows bytes.Buffer
	z, _ := zlib.NewWriterLevel(&rows, zlib.BestSpeed)
	row, kind := make([]byte, 1+side), "\x08\x00\x00\x00\x00"
	if deep {
		row, kind = make([]byte, 1+8*side), "\x10\x06\x00\x00\x00"
	}
	for range side {
		_, _ = z.Write(row)
	}
	_ = z.Close()
	out := []byte("\x89PNG\r\n\x1a\n")
	chunk := func(name, body string) {
		out = binary.BigEndian.AppendUint32(out, uint32(len(body)))
		out = append(out, name+body...)
		out = binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE([]byte(name+body)))
	}
	size := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, uint32(side)), uint32(side))
	chunk("IHDR", string(size)+kind)
	chunk("IDAT", rows.String())
	chunk("IEND", "")
	return out
}

func encoded(m image.Image) []byte {
	var b bytes.Buffer
	if err := (&pngs.Encoder{CompressionLevel: pngs.BestSpeed}).Encode(&b, m); err != nil {
		panic(err)
	}
	return b.Bytes()
}

// photoSheet are the edits that leave one photo of a given name, which is the
// firm's logo too.
func photoSheet(file string) string {
	return "delete row Photos!3\nPhotos!A2 = " + quoted(file) + "\nappend Tank | Logo | " + quoted(file) + "\n"
}

// previous are names of an earlier workbook that lead elsewhere.
func previous() []Case {
	const kind = "earlier workbook"
	named := func(name, says, file string, more func(dir string) error) Case {
		return folder(kind, name, Any, says, light, Base, "append Tank | Previous workbook | "+quoted(file)+"\n", more)
	}
	return []Case{
		named("path out", "leads out of", "../old.xlsx", nil),
		named("absolute path", "is an absolute path", "/etc/passwd", nil),
		named("drive", "holds a colon", `C:\old.xlsx`, nil),
		named("other machine", "is an absolute path", `\\server\share\old.xlsx`, nil),
		named("page", "holds a colon", "https://evil.example/old.xlsx", nil),
		named("device", "“NUL” is a device to Windows", "NUL", nil),
		named("device with an ending", "is a device to Windows", "Com1.xlsx", nil),
		named("full stop at the end", "Windows drops", "old.xlsx.", nil),
		named("formula", "", `=EVIL()`, nil),
		named("the workbook itself", "", input, nil),
		named("folder", "is not a file", "old.xlsx", func(dir string) error { return os.Mkdir(filepath.Join(dir, "old.xlsx"), 0o777) }),
		named("pipe", "is not a file", "old.xlsx", func(dir string) error { return pipe(filepath.Join(dir, "old.xlsx")) }),
		named("link out", "leads out of", "old.xlsx", func(dir string) error {
			return os.Symlink("/etc/passwd", filepath.Join(dir, "old.xlsx"))
		}),
		named("link that goes round", "", "old.xlsx", func(dir string) error { return os.Symlink("old.xlsx", filepath.Join(dir, "old.xlsx")) }),
		named("damaged", "old.xlsx breaks off", "old.xlsx", func(dir string) error { return put1("old.xlsx", Base("")[:5000])(dir) }),
		named("encrypted", "old.xlsx needs a password", "old.xlsx", func(dir string) error { return put1("old.xlsx", compound("EncryptedPackage"))(dir) }),
		named("one that names this one", "", "old.xlsx", func(dir string) error {
			return put1("old.xlsx", Base("append Tank | Previous workbook | "+input+"\n"))(dir)
		}),
	}
}

// lists are CSV files given to import.
func lists() []Case {
	const kind = "lists"
	of := func(name string, code int, says string, data func() []byte) Case {
		return folder(kind, name, code, says, []string{"import", "--sheet", "Indications", "list.csv", "--into", input}, Base, "", func(dir string) error {
			return put1("list.csv", data())(dir)
		})
	}
	text := func(s string) func() []byte { return func() []byte { return []byte(s) } }
	const head = "ID,Plate,X (mm),Y (mm),Side,Method,Loss %,Remarks\n"
	return []Case{
		of("empty", 3, "is empty", text("")),
		of("bytes", 3, "is no text file", text("\x00\x01\x02\x00")),
		of("workbook named as a list", 3, "", func() []byte { return Base("") }),
		of("headers alone", 0, "0 rows added", text(head)),
		of("17,000 columns behind those of the sheet", 0, "not taken: 16900 more", func() []byte {
			var b strings.Builder
			for i := range 17_000 {
				fmt.Fprintf(&b, ",more %d", i)
			}
			return []byte(strings.TrimSpace(head)[:len(head)-len("Remarks\n")-1] + b.String() + "\n91,2-2,100,100,soil,MFL,25\n")
		}),
		of("headers of which two are one", 3, "mean the same", text("ID,Plate,X (mm),X (in),Y (mm),Side,Method,Loss %\n91,2-2,100,4,100,soil,MFL,25\n")),
		of("header of an unknown unit", 3, "“cubits” is no known unit", text("ID,Plate,X (cubits),Y (mm),Side,Method,Loss %\n91,2-2,100,100,soil,MFL,25\n")),
		of("rows of another separator", 1, "line 2: refused: “91;2-2;100;100;soil;MFL;25;ok” not read as data", text(head+"91;2-2;100;100;soil;MFL;25;ok\n")),
		of("headers again and a total among rows", 1, "1 row added to Indications, 2 rows refused", text(head+"91,2-2,100,100,soil,MFL,25,\n"+head+",,,Total,,,25,\n")),
		of("cells of a program that had no room", 1, "X “########” is not one number", text(head+"91,2-2,########,100,soil,MFL,25,\n")),
		of("UTF-32", 3, "F105: list.csv is no text file", func() []byte {
			out := []byte("\xff\xfe\x00\x00")
			for _, r := range head {
				out = binary.LittleEndian.AppendUint32(out, uint32(r))
			}
			return out
		}),
		of("other headers", 3, "has no header of the sheet", text("a,b\n1,2\n")),
		of("formulas", Any, "added", text(head+"=EVIL(),2-2,100,100,soil,MFL,25,=EVIL()\n91,2-2,200,100,soil,MFL,25,\"@EVIL(),+EVIL()\"\n\"\t=EVIL()\",2-2,300,100,soil,MFL,25,\"\t=EVIL()\"\n-EVIL(),2-2,x,y,soil,MFL,25,\"\r=EVIL()\"\n")),
		of("quote without an end, 20 MB", 1, "refused", func() []byte { return []byte(head + "1,\"" + strings.Repeat("x,\n", 7_000_000)) }),
		of("a line of 1,000,000 columns", 1, "refused", func() []byte { return []byte(head + "91,2-2,100,100" + strings.Repeat(",", 1_000_000) + "x\n") }),
		of("a cell of 20 MB", 1, "Remarks holds 20971520 letters; a cell holds 32767", func() []byte {
			return []byte(head + "91,2-2,100,100,soil,MFL,25," + strings.Repeat("x", 20<<20) + "\n")
		}),
		of("300,000 lines", 3, "F107: list.csv holds more than 200000 rows", func() []byte { return []byte(head + strings.Repeat("91,2-2,100,100,soil,MFL,25,\n", 300_000)) }),
		of("50,000 lines of one key", 1, "49999 rows refused", func() []byte { return []byte(head + strings.Repeat("91,2-2,100,100,soil,MFL,25,\n", 50_000)) }),
		of("numbers beyond all", 1, "refused", text(head+"91,2-2,1e308,100,soil,MFL,25,\n92,2-2,1e999,100,soil,MFL,25,\n93,2-2,NaN,Inf,soil,MFL,25,\n")),
		of("control characters", 1, "ID holds a control character (U+0001)", text(head+"9\x011,2-2,100,100,soil,MFL,25,\x1b[31m\n")),
		of("half a letter of UTF-16", 3, "", text("\xff\xfea")),
		of("pairs of UTF-16 in halves", 3, "", text("\xff\xfe\x00\xd8\x00\xd8\x0a\x00")),
		of("old line ends", Any, "", text(strings.ReplaceAll(head+"91,2-2,100,100,soil,MFL,25,\n", "\n", "\r"))),
		of("separator told as a quote", Any, "", text("sep=\"\n"+head)),
	}
}
