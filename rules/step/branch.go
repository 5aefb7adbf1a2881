package step

import (
	"slices"
	"strings"

	"platebook/rules/unit"
)

// taken is the tree with the branch in place of each question whose answer the
// values give, and the conditions that gave it, each as it holds.
func (n *node) taken(values func(symbol string) ([]float64, bool)) (out *node, since []*node) {
	if n.op == "call" && n.text == "if" && n.args[0].known(values) {
		given := func(symbol string) []float64 {
			xs, _ := values(symbol)
			return xs
		}
		cond, branch := n.args[0], n.args[1]
		if cond.eval(given) == 0 {
			cond, branch = cond.not(), n.args[2]
		}
		out, since = branch.taken(values)
		return out, append([]*node{cond}, since...)
	}
	c := *n
	c.args = make([]*node, len(n.args))
	for i, a := range n.args {
		var more []*node
		c.args[i], more = a.taken(values)
		since = append(since, more...)
	}
	return &c, since
}

// known says whether all symbols of a tree have values.
func (n *node) known(values func(string) ([]float64, bool)) bool {
	for _, s := range (Formula{n}).Symbols() {
		if xs, ok := values(s); !ok || len(xs) == 0 {
			return false
		}
	}
	return true
}

var opposite = map[string]string{"<": ">=", "<=": ">", ">": "<=", ">=": "<", "=": "≠"}

// not is the opposite of a comparison.
func (n *node) not() *node {
	op, ok := opposite[n.op]
	if !ok {
		return n
	}
	return &node{op: op, args: n.args}
}

// Numbers is the formula with its inputs' numbers, of a choice only the branch
// that was taken; a branch that is a symbol alone stands as that, since its
// number is the result. A column prints as its least, greatest or count by name.
func (s Step) Numbers(sys unit.System) string {
	f := s.formula(sys)
	if f.root == nil {
		return ""
	}
	tree, since := f.root.taken(s.values())
	if len(since) > 0 && tree.op == "sym" {
		return tree.text
	}
	return printed(tree, f.Choices(), s.inNumbers(sys))
}

// Since is why the branch that Numbers prints was taken: "B = no", "2.10 ≤ 2.54",
// "" where the formula has no choice.
func (s Step) Since(sys unit.System) string {
	f := s.formula(sys)
	if f.root == nil {
		return ""
	}
	choices, name := f.Choices(), s.inNumbers(sys)
	_, since := f.root.taken(s.values())
	var reasons []string
	for _, c := range since {
		if r := reason(c, choices, name); !slices.Contains(reasons, r) {
			reasons = append(reasons, r)
		}
	}
	return strings.Join(reasons, " and ")
}

// values looks up what the inputs hold, nothing for one that is not known.
func (s Step) values() func(symbol string) ([]float64, bool) {
	return func(symbol string) ([]float64, bool) {
		for _, in := range s.All() {
			switch {
			case in.Symbol != symbol:
			case !in.Known:
				return nil, false
			case in.Values != nil:
				return in.Values, true
			default:
				return []float64{in.Value}, true
			}
		}
		return nil, false
	}
}

// inNumbers names each input that has one value by it.
func (s Step) inNumbers(sys unit.System) func(symbol string) string {
	return func(symbol string) string {
		for _, in := range s.All() {
			if in.Symbol == symbol && in.Values == nil && in.Known {
				return s.Given(*in, sys)
			}
		}
		return symbol
	}
}

func printed(n *node, choices []string, name func(string) string) string {
	var b strings.Builder
	n.worded(choices).print(&b, name, false, 0)
	return b.String()
}

// reason is a condition in numbers, a choice as its answer. Where rounding would
// show two sides alike that are not, it says so.
func reason(c *node, choices []string, name func(string) string) string {
	if a := c.args; len(a) == 2 && a[0].op == "sym" && slices.Contains(choices, a[0].text) {
		return a[0].text + " = " + name(a[0].text)
	}
	out := printed(c, choices, name)
	if len(c.args) == 2 && (c.op == "<" || c.op == ">" || c.op == "≠") && printed(c.args[0], choices, name) == printed(c.args[1], choices, name) {
		out += " by less than is printed"
	}
	return out
}
