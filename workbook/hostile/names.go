package hostile

import (
	"bytes"
	"encoding/binary"
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
		named("path out", "R", "../secret.jpg"),
		named("path out and in", "R", "photos/../../secret.jpg"),
		named("path out with backslashes", "R", `..\..\secret.jpg`),
		named("absolute path", "R", "/etc/passwd"),
		named("drive", "R", `C:\Windows\win.ini`),
		named("drive without a root", "R", "C:x.jpg"),
		named("other machine", "R", `\\server\share\x.jpg`),
		named("device", "R", "CON"),
		named("device with an ending", "R", "NUL.jpg"),
		named("device with a number", "R", "photos/COM1.png"),
		named("stream of a file", "R", "tank.xlsx::$DATA"),
		named("page", "R", "http://evil.example/x.jpg"),
		named("file address", "R", "file:///etc/passwd"),
		named("the workbook itself", "R", input),
		named("name of 5,000 letters", "R", strings.Repeat("x", 5000)+".jpg"),
		named("control character in a name", "R", "a_x0002_.jpg"),
		named("formula as a name", "R", `=EVIL().jpg`),
		made("link out", "R", "a.jpg", func(dir string) error {
			return os.Symlink("/etc/passwd", filepath.Join(dir, "a.jpg"))
		}),
		made("folder that is a link out", "R", "pics/passwd", func(dir string) error {
			return os.Symlink("/etc", filepath.Join(dir, "pics"))
		}),
		made("link that goes round", "R", "a.jpg", func(dir string) error {
			return os.Symlink("a.jpg", filepath.Join(dir, "a.jpg"))
		}),
		made("folder named as a picture", "R", "a.jpg", func(dir string) error { return os.Mkdir(filepath.Join(dir, "a.jpg"), 0o777) }),
		made("pipe named as a picture", "R", "a.jpg", func(dir string) error { return pipe(filepath.Join(dir, "a.jpg")) }),
		of("empty picture", "R", nil),
		of("text named as a picture", "R", []byte("EVIL")),
		of("picture cut off", "R", picture()[:len(picture())/2]),
		of("head of a picture alone", "R", []byte{0xff, 0xd8, 0xff}),
		of("picture of 65,500 by 65,500", "R", big),
		of("PNG of 2,000,000,000 by 2,000,000,000", "R", png(2e9, 2e9)),
		of("PNG of 30,000 by 30,000", "R", png(30000, 30000)),
		of("PNG of 0 by 0", "R", png(0, 0)),
		of("camera data that go nowhere", "R", exif),
		of("camera data that go round", "", exifLoop()),
		of("CMYK picture", "", cmyk()),
		of("picture of 16 bits a colour, named otherwise", "", deepPNG()),
		of("picture of 12,000 by 12,000, whole", "", blackPNG(12_000)),
		of("GIF that moves, named otherwise", "", movingGIF()),
		of("camera data of 4,000,000,000 entries", "", exif4e9()),
		made("link to an endless device", "R", "a.jpg", func(dir string) error {
			return os.Symlink("/dev/zero", filepath.Join(dir, "a.jpg"))
		}),
		of("HEIC of nothing", "R", append([]byte("\x00\x00\x00\x18ftypheic"), make([]byte, 2000)...)),
		of("drawing with a script", "R", []byte(`<svg xmlns="http://www.w3.org/2000/svg"><script>EVIL()</script></svg>`)),
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

// cmyk is the head and first scan of a picture of four colours.
func cmyk() []byte {
	p := picture()
	i := bytes.Index(p, []byte{0xff, 0xc0})
	head := []byte{0xff, 0xc0, 0, 20, 8, 0, 8, 0, 8, 4, 1, 0x11, 0, 2, 0x11, 0, 3, 0x11, 0, 4, 0x11, 0}
	n := int(p[i+2])<<8 | int(p[i+3])
	return append(append(bytes.Clone(p[:i]), head...), p[i+2+n:]...)
}

func deepPNG() []byte { return encoded(image.NewNRGBA64(image.Rect(0, 0, 64, 64))) }

// blackPNG is a large picture that packs to little.
func blackPNG(side int) []byte { return encoded(image.NewGray(image.Rect(0, 0, side, side))) }

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
		named("path out", "leads outside", "../old.xlsx", nil),
		named("absolute path", "leads outside", "/etc/passwd", nil),
		named("drive", "leads outside", `C:\old.xlsx`, nil),
		named("other machine", "leads outside", `\\server\share\old.xlsx`, nil),
		named("page", "leads outside", "https://evil.example/old.xlsx", nil),
		named("device", "NUL", "NUL", nil),
		named("formula", "", `=EVIL()`, nil),
		named("the workbook itself", "", input, nil),
		named("folder", "is not a file", "old.xlsx", func(dir string) error { return os.Mkdir(filepath.Join(dir, "old.xlsx"), 0o777) }),
		named("pipe", "is not a file", "old.xlsx", func(dir string) error { return pipe(filepath.Join(dir, "old.xlsx")) }),
		named("link out", "leads outside", "old.xlsx", func(dir string) error {
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
