package xlsx

import "strings"

// texts are the shared texts of a workbook.
type texts struct {
	all    []string
	struck map[int]bool // those struck through from end to end
}

// readTexts reads the shared texts: plain ones and rich ones, whose runs are
// put together. Phonetic readings are no part of a text.
func (p *pack) readTexts(part string) (*texts, error) {
	t := &texts{}
	var a arena
	var item richText
	size := 0 // bytes not yet counted
	err := p.scan(part, "the shared texts", func(s *scanner) error {
		switch {
		case s.kind == startTag && s.depth() == 2:
			if string(s.name) != "si" {
				return s.skip()
			}
			item.reset()
		case s.kind == endTag && s.depth() == 1:
			if item.struck() {
				if t.struck == nil {
					t.struck = map[int]bool{}
				}
				t.struck[len(t.all)] = true
			}
			t.all = append(t.all, a.keep(unxml(item.text)))
			if size += len(item.text) + 16; size > 1<<20 { // 16: of the text's own place
				kept := size
				size = 0
				return p.budget(0, kept)
			}
		case s.depth() >= 2:
			return item.token(s)
		}
		return nil
	})
	return t, err
}

// richText puts the runs of a text together.
type richText struct {
	text         []byte
	inText       bool
	strike       bool
	runs, strunk int
}

func (r *richText) reset() { *r = richText{text: r.text[:0]} }

func (r *richText) struck() bool { return r.runs > 0 && r.strunk == r.runs }

// token takes one token inside <si> or <is>.
func (r *richText) token(s *scanner) error {
	switch s.kind {
	case startTag:
		switch string(s.name) {
		case "rPh", "phoneticPr":
			return s.skip()
		case "r":
			r.runs++
			r.strike = false
		case "strike":
			if v := s.attr("val"); v == nil || isTrue(v) {
				r.strunk++
			}
		case "t":
			r.inText = true
		}
	case endTag:
		r.inText = false
	case textNode:
		if r.inText {
			var err error
			r.text, err = s.appendText(r.text)
			return err
		}
	}
	return nil
}

// An arena keeps many short texts in few blocks of memory.
type arena struct{ block strings.Builder }

func (a *arena) keep(b []byte) string {
	if len(b) == 0 {
		return ""
	}
	if len(b) > 4096 {
		return string(b)
	}
	if a.block.Cap()-a.block.Len() < len(b) {
		a.block = strings.Builder{}
		a.block.Grow(32 << 10)
	}
	n := a.block.Len()
	a.block.Write(b)
	return a.block.String()[n:]
}
