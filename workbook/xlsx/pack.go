package xlsx

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"
	"sync"
	"sync/atomic"

	"platebook/rules/finding"
)

// A pack is the zip of a workbook in memory. Names compare without case, as
// the format asks for.
type pack struct {
	data     []byte
	file     string // base name, for messages
	zip      *zip.Reader
	parts    map[string]*zip.File // by folded name
	unpacked atomic.Int64         // of each part once, however often it is read
	read     sync.Map             // name of a part → bytes of it that are in unpacked
	cells    atomic.Int64         // read so far, of all sheets
	text     atomic.Int64         // bytes of their texts and formulas

	main, core, custom string     // names of the main and property parts
	rels               []relation // of the main part
	list               []sheetRef // all sheets, also charts
	styles             []look
	texts              func() (*texts, error) // read once, when a sheet needs them
}

var errTooLarge = errors.New("too large")

func fold(name string) string {
	return strings.ToLower(strings.TrimPrefix(strings.ReplaceAll(name, `\`, "/"), "/"))
}

// newPack lists the parts. Sizes in the zip's own list are only trusted to
// refuse a file early, never to accept one.
func newPack(file string, data []byte) (*pack, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, damaged(file+" breaks off or its zip is damaged", err)
	}
	p := &pack{data: data, file: file, zip: z, parts: make(map[string]*zip.File, len(z.File))}
	if len(z.File) > 20_000 {
		return nil, tooLarge(fmt.Sprintf("holds %d parts", len(z.File)))
	}
	var total uint64
	for _, f := range z.File {
		name := fold(f.Name)
		if strings.HasSuffix(name, "/") {
			continue
		}
		if f.Flags&1 != 0 {
			return nil, &finding.Unusable{Rule: "F103", Message: file + " needs a password to open", Do: "Save a copy without it."}
		}
		if f.Method != zip.Store && f.Method != zip.Deflate {
			return nil, &finding.Unusable{Rule: "F106", Message: fmt.Sprintf("its zip packs %s in a way that is not read (method %d)", f.Name, f.Method), Do: "Save it as .xlsx in your spreadsheet program, or fetch it again from its source."}
		}
		if _, twice := p.parts[name]; twice {
			return nil, damaged("its zip holds "+name+" twice", nil)
		}
		p.parts[name] = f
		if f.UncompressedSize64 > MaxPart {
			return nil, tooLarge(f.Name + " in it unpacks to " + size(f.UncompressedSize64) + ", limit 256 MB")
		}
		if total += f.UncompressedSize64; total > MaxUnpacked || f.UncompressedSize64 > 1<<40 {
			total = min(total, 1<<50)
		}
	}
	if total > MaxUnpacked {
		return nil, tooLarge("unpacks to " + size(total) + ", limit 512 MB")
	}
	if p.another() {
		return nil, twoBooks(file + " is two files one behind the other")
	}
	return p, nil
}

// another says whether the file holds a second zip before the parts of the one
// that is read, or behind it. The last one would be read and the other dropped
// without a word. Within the parts nothing is looked for: a packed part may
// hold the same bytes by chance.
//
// Source: the ZIP application note (APPNOTE 6.3) 4.3.7 and 4.3.16.
func (p *pack) another() bool {
	const local, end = "PK\x03\x04", "PK\x05\x06"
	first := int64(len(p.data))
	for _, f := range p.zip.File {
		if at, err := f.DataOffset(); err == nil {
			first = min(first, at-30-int64(len(f.Name)))
		}
	}
	if first > 0 && first < int64(len(p.data)) && bytes.Contains(p.data[:first], []byte(end)) {
		return true
	}
	last := bytes.LastIndex(p.data, []byte(end))
	return last >= 0 && bytes.Contains(p.data[last:], []byte(local))
}

func twoBooks(message string) error {
	return &finding.Unusable{Rule: "F106", Message: message, Do: "Open it in your spreadsheet program, see that it shows the right inspection, save it as .xlsx."}
}

func size(n uint64) string {
	switch {
	case n >= 1<<30:
		return fmt.Sprintf("%.1f GB", float64(n)/(1<<30))
	case n >= 1<<20:
		return fmt.Sprintf("%d MB", n>>20)
	}
	return fmt.Sprintf("%d kB", (n+1023)>>10)
}

func damaged(message string, err error) *finding.Unusable {
	return &finding.Unusable{Rule: "F106", Message: message, Do: "Fetch it again from its source.", Err: err}
}

func tooLarge(message string) *finding.Unusable {
	return &finding.Unusable{Rule: "F107", Message: message, Do: "Remove pictures, unused sheets."}
}

// budget counts what is kept of the cells.
func (p *pack) budget(cells, text int) error {
	switch {
	case p.cells.Add(int64(cells)) > MaxCells:
		return &finding.Unusable{Rule: "F107", Message: fmt.Sprintf("%s holds more than %d cells with a value", p.file, MaxCells), Do: oneFloor}
	case p.text.Add(int64(text)) > MaxText:
		return &finding.Unusable{Rule: "F107", Message: p.file + " holds more than " + size(MaxText) + " of text", Do: oneFloor}
	}
	return nil
}

const oneFloor = "Keep one inspection of one floor in it, clear the rest."

func (p *pack) has(name string) bool { return p.parts[fold(name)] != nil }

// open unpacks a part as a stream that counts.
func (p *pack) open(name string) (io.ReadCloser, error) {
	f := p.parts[fold(name)]
	if f == nil {
		return nil, damaged("the part "+name+" is missing", nil)
	}
	rc, err := f.Open()
	if err != nil {
		return nil, damaged("the part "+name+" cannot be unpacked", err)
	}
	c := &counted{ReadCloser: rc, p: p, name: fold(name)}
	if before, again := p.read.Load(c.name); again {
		c.before = before.(int64)
	}
	return c, nil
}

// counted adds up what is unpacked, whatever the zip's list says.
type counted struct {
	io.ReadCloser
	p         *pack
	name      string
	n, before int64 // so far, and when it was last read
}

func (c *counted) Read(b []byte) (int, error) {
	n, err := c.ReadCloser.Read(b)
	from := max(c.n, c.before)
	c.n += int64(n)
	if c.n > MaxPart || c.p.unpacked.Add(max(0, c.n-from)) > MaxUnpacked {
		return 0, errTooLarge
	}
	return n, err
}

func (c *counted) Close() error {
	c.p.read.Store(c.name, max(c.n, c.before))
	return c.ReadCloser.Close()
}

// partError puts the error of reading a part into words. where is the place
// a person knows, such as a sheet's name.
func (p *pack) partError(where string, err error) error {
	var u *finding.Unusable
	switch {
	case errors.As(err, &u):
		return err
	case errors.Is(err, errTooLarge):
		return tooLarge(where + " unpacks to over 256 MB, or the file to over 512 MB")
	case errors.Is(err, errBreaksOff), errors.Is(err, io.ErrUnexpectedEOF):
		return damaged(where+" breaks off", err)
	case errors.Is(err, zip.ErrChecksum):
		return damaged(where+" does not match its checksum", err)
	}
	var corrupt flate.CorruptInputError
	if errors.As(err, &corrupt) {
		return damaged(where+" is damaged and cannot be unpacked", err)
	}
	return damaged(where+" is damaged: "+err.Error(), err)
}

// scan runs a function over the tokens of a part, to its very end, so that a
// damaged end or a wrong checksum never goes unseen.
func (p *pack) scan(name, where string, f func(*scanner) error) error {
	rc, err := p.open(name)
	if err != nil {
		return err
	}
	defer rc.Close()
	s := newScanner(rc)
	for err == nil {
		if err = s.next(); err == nil {
			err = f(s)
		}
	}
	if err != io.EOF {
		return p.partError(where, err)
	}
	return nil
}

// relation is one arrow from a part to another.
type relation struct {
	id, kind, target string
	external         bool
}

// relations lists the arrows of a part ("" for the package); none is no error.
func (p *pack) relations(part string) ([]relation, error) {
	name := relsOf(part)
	if !p.has(name) {
		return nil, nil
	}
	var list []relation
	err := p.scan(name, "the part "+name, func(s *scanner) error {
		if s.kind != startTag || string(s.name) != "Relationship" {
			return nil
		}
		target, err := s.attrText("Target")
		if err != nil {
			return err
		}
		kind := string(s.attr("Type"))
		r := relation{
			id: string(s.attr("Id")), kind: kind[strings.LastIndexByte(kind, '/')+1:],
			target: target, external: string(s.attr("TargetMode")) == "External",
		}
		if !r.external {
			r.target = resolve(part, target)
		}
		list = append(list, r)
		return nil
	})
	return list, err
}

func relsOf(part string) string {
	if part == "" {
		return "_rels/.rels"
	}
	return path.Join(path.Dir(part), "_rels", path.Base(part)+".rels")
}

// resolve makes a target, absolute or relative to its part, a part's name.
func resolve(part, target string) string {
	target = strings.ReplaceAll(target, `\`, "/")
	if strings.HasPrefix(target, "/") {
		return strings.TrimPrefix(path.Clean(target), "/")
	}
	return strings.TrimPrefix(path.Join("/", path.Dir(part), target), "/")
}

func find(list []relation, kind string) string {
	for _, r := range list {
		if r.kind == kind && !r.external {
			return r.target
		}
	}
	return ""
}
