package method

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Explain tells a formula to a person, "" for a name that is none.
func Explain(name string) string {
	if e := Entry(name); e != nil {
		return e.Text()
	}
	return ""
}

// Text is the formula as a person reads it: what, why, formula, symbols, an
// example before and after a change, source.
func (e *Explained) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s  %s\n\n", e.Name, e.Title)
	part := func(head, text string) {
		if text != "" {
			fmt.Fprintf(&b, "%s: %s\n", head, text)
		}
	}
	part("Means", e.Means)
	part("Why", e.Why)
	b.WriteString("\nFormula:\n")
	for _, f := range e.Formulas {
		fmt.Fprintf(&b, "    %s\n", f.SI)
		if f.US != "" {
			fmt.Fprintf(&b, "    %s   (in, ft, psi)\n", f.US)
		}
	}
	widest, units := 0, 0
	for _, s := range e.Symbols {
		widest, units = max(widest, len([]rune(s.Symbol))), max(units, len([]rune(s.Unit)))
	}
	for _, s := range e.Symbols {
		fmt.Fprintf(&b, "      %s  %s  %s\n", padded(s.Symbol, widest), padded(s.Unit, units), s.Title)
	}
	part("Limit", e.Limit)
	part("Range", e.Outside)
	if e.Example != nil {
		fmt.Fprintf(&b, "\nBefore: %s\n    %s\n", e.Example.Tank, e.Example.Before)
		fmt.Fprintf(&b, "After: with %s\n    %s\n", e.Example.With, e.Example.After)
	}
	b.WriteByte('\n')
	part("Clause", strings.Join(e.Clauses, "; "))
	part("Other editions", strings.Join(e.Others, "; "))
	part("Source", strings.TrimSuffix(e.Mark+"; "+e.Source, "; "))
	part("Verify", strings.Join(e.Verify, "; "))
	part("Check", e.Check)
	for i, name := range e.See {
		if i == 0 {
			b.WriteString("\nBehind it:\n")
		}
		fmt.Fprintf(&b, "    %s", name)
		if f := FindFunction(name); f != nil && f.Formula != nil {
			fmt.Fprintf(&b, ":  %s", strings.Join(f.Formula, ";  "))
		}
		b.WriteByte('\n')
	}
	return b.String()
}

func padded(s string, n int) string { return s + strings.Repeat(" ", n-len([]rune(s))) }

// Explained is everything told of one formula; its JSON is what explain --json
// prints.
type Explained struct {
	Name     string       `json:"name"`
	Title    string       `json:"title"`
	Section  int          `json:"section"`
	Unit     string       `json:"unit,omitempty"`
	Means    string       `json:"means"`
	Why      string       `json:"why,omitempty"`
	Formulas []FormText   `json:"formulas"`
	Symbols  []Symbol     `json:"symbols"`
	Limit    string       `json:"limit,omitempty"`
	Outside  string       `json:"range,omitempty"`
	Clauses  []string     `json:"clauses,omitempty"`
	Others   []string     `json:"other_editions,omitempty"`
	Mark     string       `json:"mark"`
	Source   string       `json:"source,omitempty"`
	Verify   []string     `json:"verify,omitempty"`
	Check    string       `json:"check,omitempty"`
	See      []string     `json:"see,omitempty"`
	Example  *ExampleText `json:"example,omitempty"`
}

// FormText is one shape of a formula with its left side.
type FormText struct {
	SI string `json:"si"`
	US string `json:"us,omitempty"`
	In string `json:"in,omitempty"`
}

// ExampleText is an example with its numbers.
type ExampleText struct {
	Tank   string `json:"tank"`
	Before string `json:"before"`
	With   string `json:"with"`
	After  string `json:"after"`
}

// Entry is what explain tells of a name: a formula of a step, or of a
// function; nil for neither.
func Entry(name string) *Explained {
	if f := Find(name); f != nil {
		for _, s := range Show() {
			if s.Name() == f.Name() {
				return s.explained()
			}
		}
	}
	if c := FindCheck(name); c != nil {
		return c.explained()
	}
	if s := byLetter(name); s != nil {
		return s.explained()
	}
	if f := FindFunction(name); f != nil {
		e := &Explained{
			Name: f.ID, Title: f.Title(), Section: f.Section, Means: f.What, Outside: f.Text,
			Mark: string(f.Mark()), Source: f.Source, Check: f.Check, Formulas: []FormText{}, Symbols: []Symbol{},
		}
		for _, l := range f.Formula {
			e.Formulas = append(e.Formulas, FormText{SI: l})
		}
		return e
	}
	return nil
}

// byLetter is the one formula whose value has a symbol, nil where several do.
func byLetter(symbol string) *Shown {
	var found *Shown
	for _, s := range Show() {
		if s.Letter != symbol {
			continue
		}
		if found != nil {
			return nil
		}
		found = &s
	}
	return found
}

// Title is the name of a function in words.
func (f *Function) Title() string {
	_, name, _ := strings.Cut(f.ID, "/")
	return strings.ReplaceAll(name, "_", " ")
}

func (s *Shown) explained() *Explained {
	e := &Explained{
		Name: s.Name(), Title: s.Title, Section: s.Section, Unit: s.Unit, Means: s.Means, Why: s.Why, Outside: s.Outside,
		Clauses: s.Clauses, Others: s.Others, Mark: string(s.Mark), Source: s.Source, Verify: s.Verify, See: s.See,
		Formulas: []FormText{}, Symbols: append([]Symbol{{s.Letter, s.Unit, s.Title}}, s.Symbols...),
	}
	if s.Limit != "" {
		e.Limit = s.Letter + " " + s.Limit
	}
	for _, f := range s.Forms {
		t := FormText{SI: s.Letter + " = " + f.SI, In: f.In}
		if f.US != "" {
			t.US = s.Letter + " = " + f.US
		}
		e.Formulas = append(e.Formulas, t)
	}
	if before, after := s.Work(); before != nil && after != nil {
		e.Example = &ExampleText{Tank: s.about(), With: s.Formula.Example.With, Before: instance(before).line(before.Symbol), After: instance(after).line(after.Symbol)}
	}
	return e
}

func (i Instance) line(symbol string) string {
	t := symbol + " = " + i.Result
	if i.Numbers != "" && i.Numbers+" " != i.Result+" " {
		t = symbol + " = " + i.Numbers + " = " + i.Result
	}
	if i.Since != "" {
		t += ", since " + i.Since
	}
	if i.Verdict != "" {
		t += "; " + i.Verdict
	}
	return t
}

// Names are all names that explain knows, formulas of steps before functions.
func Names() []string {
	var out []string
	for _, f := range All() {
		out = append(out, f.Name())
	}
	for _, c := range Checks {
		out = append(out, c.ID)
	}
	for _, f := range Functions() {
		out = append(out, f.ID)
	}
	return out
}

// List is one line for each formula of a step.
func List() []string {
	widest := 0
	for _, f := range All() {
		widest = max(widest, len(f.Name()))
	}
	var out []string
	for _, s := range Show() {
		unit := ""
		if s.Unit != "" {
			unit = " [" + s.Unit + "]"
		}
		out = append(out, padded(s.Name(), widest)+"  "+s.Title+", "+s.Letter+unit)
	}
	return out
}

// Near are the names closest to one that is none, nearest first.
func Near(word string, names []string) []string {
	word = strings.ToLower(word)
	type scored struct {
		name  string
		steps int
	}
	var all []scored
	for _, n := range names {
		low := strings.ToLower(n)
		d := distance(word, low)
		for _, part := range strings.FieldsFunc(low, func(r rune) bool { return r == '.' || r == '/' || r == '_' || r == ' ' }) {
			d = min(d, distance(word, part)+1)
		}
		if strings.Contains(low, word) && len(word) > 2 {
			d = min(d, 1)
		}
		if d <= max(2, len([]rune(word))/3) {
			all = append(all, scored{n, d})
		}
	}
	slices.SortStableFunc(all, func(a, b scored) int { return cmp.Compare(a.steps, b.steps) })
	var out []string
	for _, s := range all[:min(5, len(all))] {
		out = append(out, s.name)
	}
	return out
}

// distance is how many letters must be put in, taken out or changed to turn
// one word into the other.
func distance(a, b string) int {
	s, t := []rune(a), []rune(b)
	row := make([]int, len(t)+1)
	for j := range row {
		row[j] = j
	}
	for i, r := range s {
		last := row[0]
		row[0] = i + 1
		for j, q := range t {
			cost := 1
			if r == q {
				cost = 0
			}
			last, row[j+1] = row[j+1], min(row[j+1]+1, row[j]+1, last+cost)
		}
	}
	return row[len(t)]
}
