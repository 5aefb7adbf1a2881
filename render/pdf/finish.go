package pdf

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"unicode/utf16"

	"github.com/klauspost/compress/zlib"

	"platebook/render/lettering"
	"platebook/render/report"
)

// finish takes maroto's pages and adds what it cannot make: what lies beneath
// the text, dense pages, turned pages, pictures, links, bookmarks, metadata.
type finish struct {
	objs   objects
	sheets []*sheet
	page   map[*sheet]int // object number
	report *report.Report
	faces  *faces
}

func (f *finish) write(w io.Writer, laid []byte, pics *pictures, entries []entry) error {
	objs, root, err := readObjects(laid)
	if err != nil {
		return err
	}
	f.objs = objs
	pages := f.objs.entryRef(root, "Pages")
	if pages == 0 {
		return errors.New("pdf: the page layout has no pages")
	}
	kids := f.objs.kids(pages)
	if len(kids) != len(f.sheets)+1 {
		return fmt.Errorf("pdf: %d pages were laid out, %d came back", len(f.sheets)+1, len(kids))
	}
	resources := f.objs.entryRef(kids[0], "Resources")
	if resources == 0 {
		return errors.New("pdf: the page layout has no resources")
	}
	if err := f.fonts(resources); err != nil {
		return err
	}
	f.images(resources, pics)

	// The page of letters has done its work.
	last := kids[len(kids)-1]
	f.objs[f.objs.entryRef(last, "Contents")] = nil
	f.objs[last] = nil
	kids = kids[:len(kids)-1]

	f.page = map[*sheet]int{}
	for i, s := range f.sheets {
		f.page[s] = kids[i]
	}
	if err := f.contents(); err != nil {
		return err
	}
	for _, s := range f.sheets {
		f.sheet(s, pages, resources)
	}
	f.objs[pages] = pagesDict(kids)
	outline := f.outline(entries)
	info := f.objs.add(f.info())
	f.objs[root] = f.catalog(pages, outline)
	f.dropInfo(root, info)
	return f.file(w, root, info)
}

func pagesDict(kids []int) []byte {
	var b bytes.Buffer
	b.WriteString("<</Type /Pages /Kids [")
	for i, k := range kids {
		if i > 0 {
			b.WriteByte(' ')
		}
		fmt.Fprintf(&b, "%d 0 R", k)
	}
	fmt.Fprintf(&b, "] /Count %d>>", len(kids))
	return b.Bytes()
}

var fontEntry = regexp.MustCompile(`/F[0-9a-f]+ (\d+) 0 R`)

// fonts gives maroto's fonts a name that drawings know and the name they have
// in the world.
func (f *finish) fonts(resources int) error {
	extra := ""
	for _, m := range fontEntry.FindAllSubmatch(f.objs[resources], -1) {
		n, _ := strconv.Atoi(string(m[1]))
		if n <= 0 || n >= len(f.objs) {
			continue
		}
		for _, known := range fontsKnown {
			if bytes.Contains(f.objs[n], []byte("/BaseFont /utf8"+known.pressed+"\n")) {
				extra += fmt.Sprintf("%s %d 0 R\n", fontName(known.family, known.bold), n)
				if u := f.objs.entryRef(n, "ToUnicode"); known.family != lettering.Main && u > 0 {
					f.objs[u] = meanings(f.faces.of(known.bold).used[known.family].all())
				}
			}
		}
	}
	if n := strings.Count(extra, "\n"); n != f.faces.fonts() {
		return errors.New("pdf: the page layout has lost a font")
	}
	f.objs[resources] = bytes.Replace(f.objs[resources], []byte("/Font <<\n"), []byte("/Font <<\n"+extra), 1)
	for n, o := range f.objs {
		if bytes.HasPrefix(o, []byte("<</Type /Font")) {
			for _, known := range fontsKnown {
				o = bytes.ReplaceAll(o, []byte("/utf8"+known.pressed), []byte(known.name))
			}
			f.objs[n] = o
		}
	}
	return nil
}

// meanings is a font's table from its letters to what they stand for: maroto's
// tells a search the shapes of Arabic letters, not the letters.
func meanings(all []rune) []byte {
	var b bytes.Buffer
	b.WriteString("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n/CIDSystemInfo\n<</Registry (Adobe)\n/Ordering (UCS)\n/Supplement 0\n>> def\n" +
		"/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n")
	const most = 100 // entries of a block, by the format
	for len(all) > 0 {
		n := min(most, len(all))
		fmt.Fprintf(&b, "%d beginbfchar\n", n)
		for _, r := range all[:n] {
			fmt.Fprintf(&b, "<%04X> <", r)
			for _, u := range utf16.Encode([]rune(lettering.Meaning(r))) {
				fmt.Fprintf(&b, "%04X", u)
			}
			b.WriteString(">\n")
		}
		b.WriteString("endbfchar\n")
		all = all[n:]
	}
	b.WriteString("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend")
	var pack packer
	return pack.stream(b.Bytes())
}

// fontsKnown are maroto's names, bold before regular: one begins the other.
var fontsKnown = []struct {
	pressed string
	family  lettering.Family
	bold    bool
	name    string
}{
	{family + "B", lettering.Main, true, "/PLATEB+LiberationSans-Bold"},
	{family, lettering.Main, false, "/PLATER+LiberationSans"},
	{reserve + "B", lettering.Reserve, true, "/PLATES+DejaVuSans-Bold"},
	{reserve, lettering.Reserve, false, "/PLATET+DejaVuSans"},
	{eastern + "B", lettering.East, true, "/PLATEU+DroidSansFallback"},
	{eastern, lettering.East, false, "/PLATEV+DroidSansFallback"},
}

func (f *finish) images(resources int, pics *pictures) {
	if len(pics.all) == 0 {
		return
	}
	var names strings.Builder
	for _, im := range pics.all {
		var b bytes.Buffer
		fmt.Fprintf(&b, "<</Type /XObject /Subtype /Image /Width %d /Height %d /ColorSpace /%s /BitsPerComponent 8 /Filter /DCTDecode", im.width, im.height, im.space)
		if im.inverted {
			b.WriteString(" /Decode [1 0 1 0 1 0 1 0]")
		}
		fmt.Fprintf(&b, " /Length %d>>\nstream\n", len(im.jpeg))
		b.Write(im.jpeg)
		b.WriteString("\nendstream")
		fmt.Fprintf(&names, "/%s %d 0 R\n", im.name, f.objs.add(b.Bytes()))
	}
	f.objs[resources] = bytes.Replace(f.objs[resources], []byte("/XObject <<\n"), []byte("/XObject <<\n"+names.String()), 1)
}

// contents packs what every page shows: what is drawn beneath, then maroto's
// text.
func (f *finish) contents() error {
	var lock sync.Mutex
	var first error
	eachSheet(f.sheets, func(s *sheet, pack *packer) {
		n := f.objs.entryRef(f.page[s], "Contents")
		if s.own {
			f.objs[n] = s.packed
			return
		}
		text, err := plainStream(f.objs[n])
		switch {
		case err != nil:
			lock.Lock()
			first = err
			lock.Unlock()
		case s.under.Len() > 0:
			f.objs[n] = pack.stream([]byte("q\n"), s.under.Bytes(), []byte("Q\n"), text)
		default:
			f.objs[n] = pack.stream(text)
		}
	})
	return first
}

// plainStream is the data of an uncompressed stream object.
func plainStream(obj []byte) ([]byte, error) {
	_, data, ok := bytes.Cut(obj, []byte("stream\n"))
	if !ok || !bytes.HasPrefix(obj, []byte("<</Length ")) {
		return nil, errors.New("pdf: the page layout has a page without text")
	}
	data, ok = bytes.CutSuffix(data, []byte("endstream"))
	if !ok {
		return nil, errors.New("pdf: the page layout has a page without an end")
	}
	return data, nil
}

// packer compresses streams one after the other.
type packer struct {
	out  bytes.Buffer
	flat *zlib.Writer
}

func (p *packer) stream(parts ...[]byte) []byte {
	p.out.Reset()
	if p.flat == nil {
		// As small as the standard library's 4, in half the time.
		p.flat, _ = zlib.NewWriterLevel(&p.out, 5)
	} else {
		p.flat.Reset(&p.out)
	}
	for _, b := range parts {
		p.flat.Write(b)
	}
	p.flat.Close()
	b := make([]byte, 0, p.out.Len()+64)
	b = fmt.Appendf(b, "<</Filter /FlateDecode /Length %d>>\nstream\n", p.out.Len())
	return append(append(b, p.out.Bytes()...), "\nendstream"...)
}

// sheet rewrites a page: its own size, and links.
func (f *finish) sheet(s *sheet, pages, resources int) {
	n := f.page[s]
	var b bytes.Buffer
	fmt.Fprintf(&b, "<</Type /Page /Parent %d 0 R /MediaBox [0 0 %s %s] /Resources %d 0 R /Contents %d 0 R",
		pages, number(nil, s.w*mm), number(nil, s.h*mm), resources, f.objs.entryRef(n, "Contents"))
	if len(s.links) > 0 {
		b.WriteString(" /Annots [")
		for _, l := range s.links {
			if l.to.sheet == nil {
				continue
			}
			fmt.Fprintf(&b, "<</Type /Annot /Subtype /Link /Border [0 0 0] /Rect [%s %s %s %s] /Dest %s>>",
				number(nil, l.x*mm), number(nil, (s.h-l.y-l.h)*mm), number(nil, (l.x+l.w)*mm), number(nil, (s.h-l.y)*mm), f.dest(l.to))
		}
		b.WriteString("]")
	}
	b.WriteString(">>")
	f.objs[n] = b.Bytes()
}

func (f *finish) dest(p *place) string {
	return fmt.Sprintf("[%d 0 R /XYZ 0 %s null]", f.page[p.sheet], number(nil, (p.sheet.h-max(0, p.y-6))*mm))
}

// dropInfo takes away the writer's own information object.
func (f *finish) dropInfo(root, info int) {
	for n, o := range f.objs {
		if n != root && n != info && bytes.HasPrefix(o, []byte("<<\n/Producer ")) {
			f.objs[n] = nil
		}
	}
}

// file writes the objects, numbered anew without gaps; the identifier is the
// hash of what comes before it.
func (f *finish) file(w io.Writer, root, info int) error {
	room := 1 << 10
	for _, o := range f.objs {
		room += len(o) + 48
	}
	var b bytes.Buffer
	b.Grow(room)
	b.WriteString("%PDF-1.7\n%\xE2\xE3\xCF\xD3\n")
	offsets := make([]int, len(f.objs))
	for n, o := range f.objs {
		if n == 0 || o == nil {
			continue
		}
		offsets[n] = b.Len()
		fmt.Fprintf(&b, "%d 0 obj\n", n)
		b.Write(o)
		b.WriteString("\nendobj\n")
	}
	start := b.Len()
	// Unused numbers form the list of free entries that the table asks for.
	next := make([]int, len(f.objs))
	free := 0
	for n := len(f.objs) - 1; n >= 0; n-- {
		if offsets[n] == 0 {
			next[n], free = free, n
		}
	}
	fmt.Fprintf(&b, "xref\n0 %d\n", len(f.objs))
	for n := range f.objs {
		switch {
		case n == 0:
			fmt.Fprintf(&b, "%010d 65535 f \n", next[0])
		case offsets[n] == 0:
			fmt.Fprintf(&b, "%010d 00001 f \n", next[n])
		default:
			fmt.Fprintf(&b, "%010d 00000 n \n", offsets[n])
		}
	}
	sum := sha256.Sum256(b.Bytes())
	id := hex.EncodeToString(sum[:16])
	fmt.Fprintf(&b, "trailer\n<</Size %d /Root %d 0 R /Info %d 0 R /ID [<%s> <%s>]>>\nstartxref\n%d\n%%%%EOF\n", len(f.objs), root, info, id, id, start)
	_, err := w.Write(b.Bytes())
	return err
}
