package step

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// Formula is a parsed expression of numbers, symbols, + - * / ^, comparisons
// and the functions min, max, sum, count, abs, sqrt, floor, ln, exp, sin, cos
// and if(condition, then, else). The same tree is evaluated, printed in
// symbols, printed in numbers and written as a live spreadsheet formula.
type Formula struct{ root *node }

type node struct {
	op   string // "num", "sym", "call", "neg" or an operator
	num  float64
	text string // number as written, symbol or function name
	args []*node
}

// Parse reads an expression. It panics on a mistake: formulas are literals of
// the program.
func Parse(src string) Formula {
	p := parser{src: []rune(src)}
	n := p.compare()
	p.space()
	if p.pos < len(p.src) {
		p.fail()
	}
	return Formula{n}
}

// IsZero says whether there is no formula.
func (f Formula) IsZero() bool { return f.root == nil }

// Passes says whether the formula only passes a value on: it is one symbol or
// one number.
func (f Formula) Passes() bool { return f.root != nil && (f.root.op == "sym" || f.root.op == "num") }

// Symbols lists the symbols used, each once, in order of appearance.
func (f Formula) Symbols() []string {
	var out []string
	var walk func(*node)
	walk = func(n *node) {
		if n == nil {
			return
		}
		if n.op == "sym" && !slices.Contains(out, n.text) {
			out = append(out, n.text)
		}
		for _, a := range n.args {
			walk(a)
		}
	}
	walk(f.root)
	return out
}

// Choices lists the symbols that stand for yes or no: those the formula only
// holds against 1, as in if(B = 1, …).
func (f Formula) Choices() []string {
	var asked, other []string
	var walk func(*node)
	walk = func(n *node) {
		switch {
		case n == nil:
			return
		case n.asks():
			asked = append(asked, n.args[0].text)
			return
		case n.op == "sym":
			other = append(other, n.text)
		}
		for _, a := range n.args {
			walk(a)
		}
	}
	walk(f.root)
	return slices.DeleteFunc(asked, func(s string) bool { return slices.Contains(other, s) })
}

// asks says whether the node is a question: symbol = 1.
func (n *node) asks() bool {
	return n.op == "=" && n.args[0].op == "sym" && n.args[1].op == "num" && n.args[1].text == "1"
}

// worded is the tree with yes in place of the 1 that a choice is held against.
func (n *node) worded(choices []string) *node {
	if len(choices) == 0 {
		return n
	}
	out := *n
	out.args = make([]*node, len(n.args))
	for i, a := range n.args {
		out.args[i] = a.worded(choices)
	}
	if n.asks() && slices.Contains(choices, n.args[0].text) {
		out.args[1] = &node{op: "num", text: "yes"}
	}
	return &out
}

// Eval computes the formula. A symbol may stand for several values inside min,
// max, sum and count; sum of an expression goes through them one by one.
func (f Formula) Eval(values func(symbol string) []float64) float64 {
	if f.root == nil {
		return math.NaN()
	}
	return f.root.eval(values)
}

func (n *node) eval(v func(string) []float64) float64 {
	switch n.op {
	case "num":
		return n.num
	case "sym":
		return v(n.text)[0]
	case "neg":
		return -n.args[0].eval(v)
	case "call":
		return n.call(v)
	}
	a, b := n.args[0].eval(v), n.args[1].eval(v)
	switch n.op {
	case "+":
		return a + b
	case "-":
		return a - b
	case "*":
		return a * b
	case "/":
		return a / b
	case "^":
		return math.Pow(a, b)
	case "<":
		return truth(a < b)
	case "<=":
		return truth(a <= b)
	case ">":
		return truth(a > b)
	case ">=":
		return truth(a >= b)
	}
	return truth(a == b)
}

func truth(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

func (n *node) call(v func(string) []float64) float64 {
	if n.text == "if" {
		if n.args[0].eval(v) != 0 {
			return n.args[1].eval(v)
		}
		return n.args[2].eval(v)
	}
	var room [4]float64
	xs := room[:0]
	for _, a := range n.args {
		if a.op == "sym" {
			xs = append(xs, v(a.text)...)
		} else if n.text == "sum" {
			xs = append(xs, a.each(v)...)
		} else {
			xs = append(xs, a.eval(v))
		}
	}
	if len(xs) == 0 {
		if n.text == "sum" || n.text == "count" {
			return 0
		}
		return math.NaN()
	}
	switch n.text {
	case "min":
		return slices.Min(xs)
	case "max":
		return slices.Max(xs)
	case "count":
		return float64(len(xs))
	case "sum":
		var t float64
		for _, x := range xs {
			t += x
		}
		return t
	}
	return functions[n.text](xs[0])
}

// each evaluates an expression for each of the values its lists hold; a symbol
// with one value keeps it throughout.
func (n *node) each(v func(string) []float64) []float64 {
	length := 1
	for _, s := range (Formula{n}).Symbols() {
		if k := len(v(s)); k != 1 {
			length = k
		}
	}
	out := make([]float64, 0, length)
	for i := range length {
		out = append(out, n.eval(func(s string) []float64 {
			if xs := v(s); len(xs) != 1 {
				return xs[i : i+1]
			}
			return v(s)
		}))
	}
	return out
}

var functions = map[string]func(float64) float64{
	"abs": math.Abs, "sqrt": math.Sqrt, "floor": math.Floor,
	"ln": math.Log, "exp": math.Exp, "sin": math.Sin, "cos": math.Cos,
}

var spreadsheetNames = map[string]string{"floor": "INT"}

// Text prints the formula for reading: a·b, −, ≥. name maps each symbol to
// what is printed in its place; nil prints the symbols.
func (f Formula) Text(name func(symbol string) string) string {
	if f.root == nil {
		return ""
	}
	if name == nil {
		name = func(s string) string { return s }
	}
	var b strings.Builder
	f.root.worded(f.Choices()).print(&b, name, false, 0)
	return b.String()
}

// Spreadsheet writes the formula for a spreadsheet program, without the
// leading equals sign. ref maps each symbol to a cell, a range or a number.
func (f Formula) Spreadsheet(ref func(symbol string) string) string {
	if f.root == nil {
		return ""
	}
	var b strings.Builder
	f.root.print(&b, ref, true, 0)
	return b.String()
}

// piText is π as formulas write it, to the last digit a double holds.
const piText = "3.141592653589793"

// degreeText turns degrees into the angle that sin and cos take.
const degreeText = "0.017453292519943295"

var precedence = map[string]int{"<": 1, "<=": 1, ">": 1, ">=": 1, "=": 1, "≠": 1, "+": 2, "-": 2, "*": 3, "/": 3, "neg": 4, "^": 5}

var signs = map[string]string{"+": " + ", "-": " − ", "*": "·", "/": "/", "^": "^", "<": " < ", "<=": " ≤ ", ">": " > ", ">=": " ≥ ", "=": " = ", "≠": " ≠ "}

func (n *node) print(b *strings.Builder, name func(string) string, sheet bool, outer int) {
	switch n.op {
	case "num":
		if !sheet && n.text == piText {
			b.WriteString("π")
			return
		}
		if !sheet && n.text == degreeText {
			b.WriteString("π/180")
			return
		}
		b.WriteString(n.text)
		return
	case "sym":
		s := name(n.text)
		if strings.HasPrefix(s, "-") || strings.HasPrefix(s, "−") {
			s = "(" + s + ")"
		}
		b.WriteString(s)
		return
	case "call":
		fn := n.text
		if sheet {
			if s, ok := spreadsheetNames[fn]; ok {
				fn = s
			} else if fn == "sum" && slices.ContainsFunc(n.args, func(a *node) bool { return a.op != "sym" }) {
				fn = "sumproduct" // goes through a range one by one without being entered as an array
			}
			fn = strings.ToUpper(fn)
		}
		comma := ", "
		if sheet {
			comma = ","
		}
		b.WriteString(fn)
		b.WriteByte('(')
		for i, a := range n.args {
			if i > 0 {
				b.WriteString(comma)
			}
			a.print(b, name, sheet, 0)
		}
		b.WriteString(")")
		return
	}
	p := precedence[n.op]
	if p < outer {
		b.WriteByte('(')
		defer b.WriteByte(')')
	}
	if n.op == "neg" {
		minus := "−"
		if sheet {
			minus = "-"
			p = precedence["^"] + 1 // a spreadsheet takes -a^2 for (-a)^2
		}
		b.WriteString(minus)
		n.args[0].print(b, name, sheet, p)
		return
	}
	n.args[0].print(b, name, sheet, p)
	if sheet {
		b.WriteString(n.op)
	} else {
		b.WriteString(signs[n.op])
	}
	right := p
	if n.op == "-" || n.op == "/" || n.op == "^" {
		right = p + 1
	}
	n.args[1].print(b, name, sheet, right)
}

type parser struct {
	src []rune
	pos int
}

func (p *parser) fail() {
	panic(fmt.Sprintf("step: formula %q: mistake at %d", string(p.src), p.pos))
}

func (p *parser) space() {
	for p.pos < len(p.src) && p.src[p.pos] == ' ' {
		p.pos++
	}
}

func (p *parser) accept(ops ...string) string {
	p.space()
	for _, op := range ops {
		if strings.HasPrefix(string(p.src[p.pos:]), op) {
			p.pos += len([]rune(op))
			return op
		}
	}
	return ""
}

func (p *parser) binary(next func() *node, ops ...string) *node {
	n := next()
	for {
		op := p.accept(ops...)
		if op == "" {
			return n
		}
		n = &node{op: op, args: []*node{n, next()}}
	}
}

func (p *parser) compare() *node { return p.binary(p.sum, "<=", ">=", "<", ">", "=") }
func (p *parser) sum() *node     { return p.binary(p.product, "+", "-") }
func (p *parser) product() *node { return p.binary(p.power, "*", "/") }

func (p *parser) power() *node {
	if p.accept("-") != "" {
		return &node{op: "neg", args: []*node{p.power()}}
	}
	n := p.atom()
	if p.accept("^") != "" {
		return &node{op: "^", args: []*node{n, p.power()}}
	}
	return n
}

func (p *parser) atom() *node {
	if p.accept("(") != "" {
		n := p.compare()
		if p.accept(")") == "" {
			p.fail()
		}
		return n
	}
	start := p.pos
	for p.pos < len(p.src) && symbolRune(p.src[p.pos]) {
		p.pos++
	}
	word := string(p.src[start:p.pos])
	if word == "" {
		p.fail()
	}
	if unicode.IsDigit(p.src[start]) {
		num, err := strconv.ParseFloat(word, 64)
		if err != nil {
			p.fail()
		}
		return &node{op: "num", num: num, text: word}
	}
	if p.accept("(") == "" {
		return &node{op: "sym", text: word}
	}
	n := &node{op: "call", text: word}
	for p.accept(")") == "" {
		if len(n.args) > 0 && p.accept(",") == "" {
			p.fail()
		}
		n.args = append(n.args, p.compare())
	}
	if _, ok := functions[word]; !ok && !slices.Contains([]string{"min", "max", "sum", "count", "if"}, word) {
		panic("step: unknown function " + word)
	}
	return n
}

func symbolRune(r rune) bool {
	return unicode.IsLetter(r) || unicode.IsDigit(r) || r == '_' || r == '.' || r == '\'' || r == '½'
}
