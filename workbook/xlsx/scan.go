package xlsx

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strconv"
	"unicode/utf8"
)

// A scanner is a small strict XML reader for the parts of a workbook. It works
// in one window over the unpacking stream, so that a sheet of any size needs
// little memory; it refuses document type declarations, unknown entities,
// elements that do not close in order, and texts or tags without end. Prefixes
// of names are dropped: some programs write <x:row> for <row>.
type scanner struct {
	r      io.Reader
	buf    []byte
	pos    int // next byte to read
	end    int
	eof    bool
	gone   int    // bytes that left the window
	at     int    // where the current tag begins in the part
	names  []byte // names of the open elements, one after the other
	starts []int  // where each begins
	open   bool   // a root element was seen
	closed bool   // a self-closing element still has to end
	broken bool   // an attribute of the current tag cannot be read

	kind  token
	name  []byte // local name of a start or end
	attrs []byte // between the name and the end of a start tag
	text  []byte // of a text, as stored
	raw   bool   // the text is CDATA: no entities in it
}

type token uint8

const (
	startTag token = iota + 1
	endTag
	textNode
)

const (
	window   = 64 << 10
	maxToken = 16 << 20
	maxDepth = 200
)

var errEndless = errors.New("a text or tag without end")

// errBreaksOff is the error of a part that ends too early.
var errBreaksOff = errors.New("breaks off")

func newScanner(r io.Reader) *scanner { return &scanner{r: r, buf: make([]byte, window)} }

// depth is the number of open elements; inside a start it counts that one.
func (s *scanner) depth() int { return len(s.starts) }

// after is where the current tag ends in the part.
func (s *scanner) after() int { return s.gone + s.pos }

// fill reads more bytes behind what is kept from keep on, and gives how far
// everything moved to the front.
func (s *scanner) fill(keep int) (moved int, err error) {
	if s.eof {
		return 0, io.EOF
	}
	if keep > 0 {
		copy(s.buf, s.buf[keep:s.end])
		s.end -= keep
		s.pos -= keep
		s.gone += keep
	}
	if s.end == len(s.buf) {
		if len(s.buf) >= maxToken {
			return 0, errEndless
		}
		s.buf = append(s.buf, make([]byte, len(s.buf))...)
	}
	for range 100 {
		n, err := s.r.Read(s.buf[s.end:])
		s.end += n
		if n > 0 {
			if err != nil && err != io.EOF {
				return keep, err
			}
			return keep, nil
		}
		if err == io.EOF {
			s.eof = true
			return keep, io.EOF
		}
		if err != nil {
			return keep, err
		}
	}
	return keep, io.ErrNoProgress
}

// find looks for sep from offset from (relative to start) on, and reads on
// until it is there. It gives the offset of sep relative to start.
func (s *scanner) find(start *int, from int, sep string) (int, error) {
	for {
		if i := bytes.Index(s.buf[*start+from:s.end], []byte(sep)); i >= 0 {
			return from + i, nil
		}
		from = max(from, s.end-*start-len(sep)+1)
		moved, err := s.fill(*start)
		*start -= moved
		if err == io.EOF {
			return 0, errBreaksOff
		}
		if err != nil {
			return 0, err
		}
	}
}

// need makes sure that n bytes from start are in the window.
func (s *scanner) need(start *int, n int) error {
	for s.end-*start < n {
		moved, err := s.fill(*start)
		*start -= moved
		if err == io.EOF {
			return errBreaksOff
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// next moves to the next token; io.EOF after the root element has closed.
func (s *scanner) next() error {
	if s.broken {
		return errors.New("an attribute without quotes or value")
	}
	if s.closed {
		s.closed = false
		return s.endOf(s.name, false)
	}
	for {
		if s.pos == s.end {
			if _, err := s.fill(s.pos); err == io.EOF {
				if len(s.starts) > 0 || !s.open {
					return errBreaksOff
				}
				return io.EOF
			} else if err != nil {
				return err
			}
		}
		if s.buf[s.pos] != '<' {
			if done, err := s.textUpToTag(); done || err != nil {
				return err
			}
			continue
		}
		start := s.pos
		if err := s.need(&start, 2); err != nil {
			return err
		}
		s.at = s.gone + start
		switch s.buf[start+1] {
		case '?':
			n, err := s.find(&start, 2, "?>")
			if err != nil {
				return err
			}
			s.pos = start + n + 2
			if err := s.encoded(s.buf[start+2 : start+n]); err != nil {
				return err
			}
		case '!':
			if done, err := s.declaration(start); done || err != nil {
				return err
			}
		case '/':
			n, err := s.find(&start, 2, ">")
			if err != nil {
				return err
			}
			s.pos = start + n + 1
			return s.endOf(bytes.TrimRight(s.buf[start+2:start+n], " \t\r\n"), true)
		default:
			return s.startOf(start)
		}
	}
}

// encoded refuses letters that are not those of UTF-8, by what the XML
// declaration says of them.
func (s *scanner) encoded(instruction []byte) error {
	rest, ok := bytes.CutPrefix(instruction, []byte("xml"))
	if !ok || s.open || len(rest) == 0 || !blank(rest[0]) {
		return nil
	}
	for {
		name, value, after, ok := s.nextAttr(rest)
		if !ok {
			return nil
		}
		if string(name) == "encoding" && !bytes.EqualFold(value, []byte("UTF-8")) && !bytes.EqualFold(value, []byte("US-ASCII")) {
			return fmt.Errorf("letters of the encoding %.40q, where UTF-8 is wanted", value)
		}
		rest = after
	}
}

// textUpToTag reads the text before the next tag; done is false for blanks
// around the root element.
func (s *scanner) textUpToTag() (done bool, err error) {
	start := s.pos
	n, err := s.find(&start, 0, "<")
	if err == errBreaksOff && len(s.starts) == 0 {
		n = s.end - start
	} else if err != nil {
		return false, err
	}
	t := s.buf[start : start+n]
	s.pos = start + n
	if len(s.starts) == 0 {
		t = bytes.TrimPrefix(t, []byte("\ufeff"))
		if len(bytes.TrimSpace(t)) > 0 {
			return false, errors.New("text outside the root element")
		}
		return false, nil
	}
	s.kind, s.text, s.raw = textNode, t, false
	return true, nil
}

func (s *scanner) declaration(start int) (done bool, err error) {
	if err := s.need(&start, 4); err != nil {
		return false, err
	}
	if string(s.buf[start:start+4]) == "<!--" {
		n, err := s.find(&start, 4, "-->")
		if err != nil {
			return false, err
		}
		s.pos = start + n + 3
		return false, nil
	}
	const cdata = "<![CDATA["
	if err := s.need(&start, len(cdata)); err != nil {
		return false, err
	}
	if string(s.buf[start:start+len(cdata)]) != cdata || len(s.starts) == 0 {
		return false, errors.New("a document type declaration")
	}
	n, err := s.find(&start, len(cdata), "]]>")
	if err != nil {
		return false, err
	}
	s.pos = start + n + 3
	s.kind, s.text, s.raw = textNode, s.buf[start+len(cdata):start+n], true
	return true, nil
}

// startOf reads a start tag whose < stands at start.
func (s *scanner) startOf(start int) error {
	i, quote := 1, byte(0)
	for {
		for ; start+i < s.end; i++ {
			c := s.buf[start+i]
			switch {
			case quote != 0:
				if c == quote {
					quote = 0
				} else if c == '<' {
					return errors.New("a < inside a tag")
				}
			case c == '>':
				return s.tag(s.buf[start+1:start+i], start+i+1)
			case c == '"' || c == '\'':
				quote = c
			case c == '<':
				return errors.New("a < inside a tag")
			}
		}
		moved, err := s.fill(start)
		start -= moved
		if err == io.EOF {
			return errBreaksOff
		}
		if err != nil {
			return err
		}
	}
}

func (s *scanner) tag(t []byte, next int) error {
	s.pos = next
	if n := len(t); n > 0 && t[n-1] == '/' {
		s.closed = true
		t = t[:n-1]
	}
	n := 0
	for n < len(t) && t[n] != ' ' && t[n] != '\n' && t[n] != '\t' && t[n] != '\r' {
		n++
	}
	if n == 0 {
		return errors.New("a tag without a name")
	}
	if len(s.starts) == 0 && s.open {
		return errors.New("a second root element")
	}
	if len(s.starts) >= maxDepth {
		return fmt.Errorf("more than %d elements inside each other", maxDepth)
	}
	s.open = true
	s.starts = append(s.starts, len(s.names))
	s.names = append(s.names, t[:n]...)
	s.kind, s.name, s.attrs = startTag, local(t[:n]), t[n:]
	return nil
}

func (s *scanner) endOf(name []byte, check bool) error {
	if len(s.starts) == 0 {
		return errors.New("an end without a start")
	}
	last := s.starts[len(s.starts)-1]
	if check && !bytes.Equal(s.names[last:], name) {
		return fmt.Errorf("<%s> is closed by </%s>", s.names[last:], name)
	}
	s.kind, s.name = endTag, local(name)
	s.names, s.starts = s.names[:last], s.starts[:len(s.starts)-1]
	return nil
}

// prefix is what stands before the local name of the element whose start was
// just read, with its colon.
func (s *scanner) prefix() []byte {
	full := s.names[s.starts[len(s.starts)-1]:]
	return full[:len(full)-len(s.name)]
}

func local(name []byte) []byte {
	if i := bytes.IndexByte(name, ':'); i >= 0 {
		return name[i+1:]
	}
	return name
}

// skip leaves the element whose start was just read, with all in it.
func (s *scanner) skip() error {
	for depth := s.depth(); ; {
		if err := s.next(); err != nil {
			return asBroken(err)
		}
		if s.kind == endTag && s.depth() < depth {
			return nil
		}
	}
}

func asBroken(err error) error {
	if err == io.EOF {
		return errBreaksOff
	}
	return err
}

// nextAttr takes the next attribute off rest. What is none ends the reading of
// the part at the next token: it is never left out in silence.
func (s *scanner) nextAttr(rest []byte) (name, value, after []byte, ok bool) {
	name, value, after, ok = cutAttr(rest)
	s.broken = s.broken || !ok && len(bytes.TrimSpace(rest)) > 0
	return name, value, after, ok
}

func cutAttr(rest []byte) (name, value, after []byte, ok bool) {
	i := 0
	for i < len(rest) && blank(rest[i]) {
		i++
	}
	start := i
	for i < len(rest) && rest[i] != '=' && !blank(rest[i]) {
		i++
	}
	name = rest[start:i]
	for i < len(rest) && blank(rest[i]) {
		i++
	}
	if i+1 >= len(rest) || rest[i] != '=' {
		return nil, nil, nil, false
	}
	i++
	for i < len(rest) && blank(rest[i]) {
		i++
	}
	if i >= len(rest) || rest[i] != '"' && rest[i] != '\'' {
		return nil, nil, nil, false
	}
	end := bytes.IndexByte(rest[i+1:], rest[i])
	if end < 0 {
		return nil, nil, nil, false
	}
	return name, rest[i+1 : i+1+end], rest[i+2+end:], true
}

func blank(c byte) bool { return c == ' ' || c == '\n' || c == '\t' || c == '\r' }

// attr is an attribute of the current start tag by its local name, without
// entities resolved; nil without it.
func (s *scanner) attr(name string) []byte {
	for rest := s.attrs; ; {
		n, v, after, ok := s.nextAttr(rest)
		if !ok {
			return nil
		}
		if string(local(n)) == name && (len(n) < 5 || string(n[:5]) != "xmlns") {
			return v
		}
		rest = after
	}
}

// attrText is attr with entities resolved.
func (s *scanner) attrText(name string) (string, error) {
	b, err := unescape(nil, s.attr(name))
	return string(b), err
}

func isTrue(v []byte) bool { return string(v) == "1" || string(v) == "true" || string(v) == "on" }

// appendText adds the text of the current token to dst, entities resolved and
// line ends made \n.
func (s *scanner) appendText(dst []byte) ([]byte, error) {
	if !s.raw {
		return unescape(dst, s.text)
	}
	if !utf8.Valid(s.text) {
		return dst, errors.New("bytes that are no text")
	}
	return append(dst, s.text...), nil
}

func unescape(dst, t []byte) ([]byte, error) {
	begin := len(dst)
	for len(t) > 0 {
		i := bytes.IndexAny(t, "&\r")
		if i < 0 {
			dst = append(dst, t...)
			break
		}
		dst = append(dst, t[:i]...)
		if t[i] == '\r' {
			dst = append(dst, '\n')
			t = t[i+1:]
			if len(t) > 0 && t[0] == '\n' {
				t = t[1:]
			}
			continue
		}
		end := bytes.IndexByte(t[i:min(len(t), i+12)], ';')
		if end < 0 {
			return dst, errors.New("an entity without end")
		}
		r, err := entity(string(t[i+1 : i+end]))
		if err != nil {
			return dst, err
		}
		dst = utf8.AppendRune(dst, r)
		t = t[i+end+1:]
	}
	if !utf8.Valid(dst[begin:]) {
		return dst, errors.New("bytes that are no text")
	}
	return dst, nil
}

func entity(name string) (rune, error) {
	switch name {
	case "amp":
		return '&', nil
	case "lt":
		return '<', nil
	case "gt":
		return '>', nil
	case "quot":
		return '"', nil
	case "apos":
		return '\'', nil
	}
	if len(name) > 1 && name[0] == '#' {
		digits, base := name[1:], 10
		if digits[0] == 'x' || digits[0] == 'X' {
			digits, base = digits[1:], 16
		}
		if n, err := strconv.ParseUint(digits, base, 32); err == nil && n > 0 && utf8.ValidRune(rune(n)) {
			return rune(n), nil
		}
	}
	return 0, fmt.Errorf("the unknown entity &%s;", name)
}

// unxml resolves the _xHHHH_ escapes that texts of a workbook use for letters
// that XML cannot hold.
//
// Source: ECMA-376 1st ed. Part 4, 3.18.96 (ST_Xstring).
func unxml(b []byte) []byte {
	if !bytes.Contains(b, []byte("_x")) {
		return b
	}
	out := b[:0:0]
	for i := 0; i < len(b); {
		if i+7 <= len(b) && b[i] == '_' && b[i+1] == 'x' && b[i+6] == '_' {
			if n, err := strconv.ParseUint(string(b[i+2:i+6]), 16, 16); err == nil {
				if r := rune(n); utf8.ValidRune(r) && r != 0 {
					out = utf8.AppendRune(out, r)
				}
				i += 7
				continue
			}
		}
		out = append(out, b[i])
		i++
	}
	return out
}
