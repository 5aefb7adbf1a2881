package pdf

import (
	"strconv"
	"strings"

	"platebook/render/report"
	"platebook/rules/step"
)

// steps sets each calculation step as an engineer would write it: symbols,
// the same in numbers, result, verdict, and where each number comes from.
func (t *setter) steps(all []step.Step) {
	for _, s := range all {
		t.step(s)
	}
}

func (t *setter) step(s step.Step) {
	const (
		size, lead   = 9.3, 4.7
		small, feed  = 7.6, 3.6
		indent, hang = 5.0, 4.6
	)
	left, full := t.paper.left, t.paper.width()
	x := left + indent
	var pieces []piece
	line := func(space, lead float64, draw func(s *sheet, y float64)) {
		pieces = append(pieces, piece{height: lead, space: space, keep: true, draw: draw})
	}

	clause := t.faces.clean(clauseOf(s))
	title := capital(t.faces.clean(s.Title))
	clauseWidth := t.faces.regular.width(clause, 8)
	titles := t.faces.bold.wrap(title, size, max(full-clauseWidth-4, full*0.5))
	clauses := t.faces.regular.wrap(clause, 8, full*0.5-4)
	// The id by which other steps and the sheet Calculation name it.
	id := t.faces.clean(s.ID)
	idAt := left + t.faces.bold.width(titles[len(titles)-1], size) + 2.5
	if idAt+t.faces.regular.width(id, small) > left+full-clauseWidth-3 {
		titles, idAt = append(titles, ""), left
	}
	for i := range max(len(titles), len(clauses)) {
		space := 0.0
		if i == 0 {
			space = 4.2
		}
		line(space, lead+0.2, func(p *sheet, y float64) {
			if i < len(titles) {
				p.text(left, y+lead*0.76, size, true, black, titles[i])
			}
			if i == len(titles)-1 {
				p.text(idAt, y+lead*0.76, small, false, grey, id)
			}
			if i < len(clauses) {
				p.textRight(left+full, y+lead*0.76, 8, false, grey, clauses[i])
			}
		})
	}

	sys := t.report.Units
	symbol := t.faces.clean(s.Symbol)
	symbolWidth := t.faces.regular.width(symbol, size)
	equal := x + min(symbolWidth, full*0.3) + 1.6
	inner := left + full - equal - hang
	symbols := t.faces.regular.wrap(symbol, size, full*0.3)
	equation := func(text string, bold bool, k ink, with bool) {
		for i, l := range t.faces.of(bold).wrap(t.faces.clean(report.Minus(text)), size, inner) {
			names := []string(nil)
			if with && i == 0 {
				names = symbols
			}
			line(0, lead*float64(max(1, len(names))), func(p *sheet, y float64) {
				for j, n := range names {
					p.text(x, y+lead*(float64(j)+0.76), size, false, black, n)
				}
				if i == 0 {
					p.text(equal, y+lead*0.76, size, false, black, "=")
				}
				p.text(equal+hang, y+lead*0.76, size, bold, k, l)
			})
		}
	}
	written := false
	if !s.Formula.IsZero() && !(s.Known && s.Formula.Passes()) { // a value passed on is said once, in the result
		in := s.Symbols(sys)
		equation(in, false, black, true)
		written = true
		n := s.Numbers(sys)
		if why := s.Since(sys); why != "" {
			n += ", since " + why
		}
		if n != in {
			equation(n, false, black, false)
		}
	}
	result := black
	if !s.Known {
		result = alarm
	}
	equation(s.Result(sys), true, result, !written)

	if v := report.Minus(s.Verdict(sys)); v != "" {
		ok, _ := s.OK()
		k, fillInk := deep, pale
		if !ok {
			k, fillInk = alarm, rose
		}
		if s.Limit.Symbol != "" {
			v += " (limit " + s.Limit.Symbol
			if from := report.Source(s.Limit.From); from != "" {
				v += ", " + from
			}
			v += ")"
		}
		lines := t.faces.bold.wrap(t.faces.clean(v), size, full-indent-6)
		for i, l := range lines {
			h := lead + 0.6
			space := 0.0
			if i == 0 {
				space = 0.8
			}
			line(space, h, func(p *sheet, y float64) {
				p.fill(x, y, full-indent, h, fillInk)
				p.fill(x, y, 1, h, k)
				p.text(x+3.5, y+lead*0.8, size, true, k, l)
			})
		}
	}

	note := func(text string, k ink) {
		for i, l := range t.faces.regular.wrap(t.faces.clean(text), small, full-indent) {
			space := 0.0
			if i == 0 {
				space = 0.7
			}
			line(space, feed, func(p *sheet, y float64) {
				p.text(x, y+feed*0.76, small, false, k, l)
			})
		}
	}
	if s.Branch != "" {
		note("Case: "+s.Branch, grey)
	}
	pieces = append(pieces, t.inputs(s, x, full-indent)...)
	if len(s.Verify) > 0 {
		note("[verify] "+strings.Join(s.Verify, "; "), amber)
	}
	// A step of ordinary length is never torn; a long one only in its notes.
	total := tall(pieces)
	for i := range pieces {
		if total > t.paper.body()*0.6 && i > 4 {
			pieces[i].keep = false
		}
	}
	pieces[len(pieces)-1].keep = false
	t.add(pieces...)
}

// capital starts a heading with a capital letter, but leaves a symbol alone.
func capital(s string) string {
	if len(s) > 1 && s[0] >= 'a' && s[0] <= 'z' && s[1] >= 'a' && s[1] <= 'z' {
		return string(s[0]-'a'+'A') + s[1:]
	}
	return s
}

func clauseOf(s step.Step) string {
	var parts []string
	if s.Source != "" {
		parts = append(parts, s.Source)
	}
	if s.Clause != "" {
		parts = append(parts, s.Clause)
	}
	text := strings.Join(parts, ", ")
	if len(s.Verify) > 0 {
		text = strings.TrimLeft(text+" [verify]", " ")
	}
	return text
}

// inputs sets one line for each input: symbol, number, meaning, source.
func (t *setter) inputs(s step.Step, x, width float64) []piece {
	const size, feed, gap = 7.6, 3.7, 3.0
	var out []piece
	rows := make([][4]string, len(s.Inputs)+len(s.Shared))
	var w [4]float64
	f := t.faces.regular
	for i, in := range s.All() {
		rows[i] = [4]string{t.faces.clean(in.Symbol), t.faces.clean(t.valueText(s, *in)), t.faces.clean(in.Title), t.faces.clean(report.Source(in.From))}
		for c, text := range rows[i] {
			w[c] = max(w[c], f.width(text, size))
		}
	}
	w[0], w[1] = min(w[0], width*0.2), min(w[1], width*0.25)
	w[3] = min(w[3], width*0.28)
	w[2] = max(0, min(w[2], width-w[0]-w[1]-w[3]-3*gap))
	for i, r := range rows {
		var lines [4][]string
		n := 1
		for c := range r {
			lines[c] = f.wrap(r[c], size, w[c]+0.01)
			n = max(n, len(lines[c]))
		}
		p := piece{height: float64(n) * feed, keep: true, draw: func(s *sheet, y float64) {
			at := x
			for c, col := range lines {
				for j, l := range col {
					base := y + feed*(float64(j)+0.76)
					s.text(at, base, size, false, grey, l)
				}
				at += w[c] + gap
			}
		}}
		if i == 0 {
			p.space = 0.9
		}
		out = append(out, p)
	}
	return out
}

func (t *setter) valueText(s step.Step, in step.Input) string {
	switch {
	case in.Values != nil:
		if len(in.Values) == 1 {
			return "1 value"
		}
		return strconv.Itoa(len(in.Values)) + " values"
	case !in.Known:
		return "not known"
	}
	text := report.Minus(s.Given(in, t.report.Units))
	if u := step.UnitOf(in.Kind, t.report.Units); u != "" {
		text += " " + u
	}
	return text
}
