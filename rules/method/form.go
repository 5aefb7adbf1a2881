package method

import (
	"regexp"
	"slices"
	"strings"
	"sync"

	"platebook/rules"
	"platebook/rules/std/api653_5"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// Form is one shape of a formula, as a step carried it.
type Form struct {
	SI, US string // in symbols; US only where its constants differ
	In     string // the scene that shows it first
}

// Symbol is one symbol of a formula.
type Symbol struct {
	Symbol string `json:"symbol"`
	Unit   string `json:"unit,omitempty"`
	Title  string `json:"title"`
}

// Shown is a formula as the evaluation uses it.
type Shown struct {
	Formula
	Title   string
	Letter  string // symbol of the value
	Unit    string
	Kind    unit.Kind
	Forms   []Form
	Symbols []Symbol
	Clauses []string // document and clause
	Others  []string // labels in other editions
	Verify  []string
	Limit   string // symbol of what the value is held against, with its sign
}

// steps are all steps of an assessment, those of its locations last.
func steps(a *rules.Assessment) step.List {
	all := slices.Clone(a.Result.Steps)
	for i := range a.Result.Locations {
		all = append(all, a.Result.Locations[i].Step)
	}
	return all
}

// judged are the scenes as evaluated, each once.
var judged = sync.OnceValue(func() []step.List {
	out := make([]step.List, len(scenes))
	for i := range scenes {
		out[i] = steps(scenes[i].judge(nil))
	}
	return out
})

// Show is all formulas as the steps of the scenes carry them.
func Show() []Shown { return gathered() }

var gathered = sync.OnceValue(func() []Shown {
	all := All()
	shown := make([]Shown, len(all))
	at := map[string]int{}
	for i, f := range all {
		shown[i].Formula = f
		at[f.ID+" "+f.Symbol] = i
	}
	for i, list := range judged() {
		for n := range list {
			s := &list[n]
			k, ok := at[idOf(s.ID)+" "]
			if !ok {
				if k, ok = at[idOf(s.ID)+" "+s.Symbol]; !ok {
					continue // a test holds the registry against the steps
				}
			}
			shown[k].take(s, scenes[i].about)
		}
	}
	return shown
})

var numbered = regexp.MustCompile(`_\d+$`)

func (f *Shown) take(s *step.Step, in string) {
	if f.Letter == "" {
		f.Letter, f.Kind, f.Unit = s.Symbol, s.Kind, step.UnitOf(s.Kind, unit.SI)
		f.Title = title(f, s)
	}
	if s.Source != "" {
		f.Clauses = added(f.Clauses, strings.TrimSpace(strings.TrimSuffix(s.Source+", "+s.Clause, ", ")))
		for _, l := range api653_5.Labels(s.Clause) {
			f.Others = added(f.Others, l)
		}
	}
	for _, v := range s.Verify {
		f.Verify = added(f.Verify, v)
	}
	if s.Limit != nil && f.Limit == "" {
		f.Limit = s.Limit.Op + " " + s.Limit.Symbol
	}
	if s.Formula.IsZero() {
		return
	}
	form := Form{SI: s.Symbols(unit.SI), In: in}
	if us := s.Symbols(unit.US); us != form.SI {
		form.US = us
	}
	if !slices.ContainsFunc(f.Forms, func(o Form) bool { return o.SI == form.SI }) {
		f.Forms = append(f.Forms, form)
	}
	for _, i := range s.All() {
		name := i.Symbol
		if f.ID == "location" {
			name = numbered.ReplaceAllString(name, "")
		}
		if !slices.ContainsFunc(f.Symbols, func(o Symbol) bool { return o.Symbol == name }) {
			f.Symbols = append(f.Symbols, Symbol{name, step.UnitOf(i.Kind, unit.SI), general(i.Title)})
		}
	}
}

// title is a step's without the name of the point it was first met at.
func title(f *Shown, s *step.Step) string {
	t, _, _ := strings.Cut(s.Title, ", ")
	if slices.Contains(named, f.ID) {
		return t
	}
	return s.Title
}

// general is an input's title without the place it was read at.
func general(title string) string {
	for _, head := range []string{"remaining at ", "elevation of ", "bearing of ", "growth since "} {
		if strings.HasPrefix(title, head) {
			return map[string]string{
				"remaining at ": "remaining at the place", "elevation of ": "elevation of the point", "bearing of ": "bearing of the point",
				"growth since ": "growth since the earlier inspection of pits measured on both dates",
			}[head]
		}
	}
	return title
}

func added(list []string, s string) []string {
	if s == "" || slices.Contains(list, s) {
		return list
	}
	return append(list, s)
}

// Instance is a formula with its numbers and what came out.
type Instance struct {
	Numbers string
	Since   string // why a branch was taken
	Result  string
	Verdict string
}

func instance(s *step.Step) Instance {
	i := Instance{Result: s.Result(unit.SI), Verdict: s.Verdict(unit.SI)}
	if s.Known {
		i.Numbers, i.Since = s.Numbers(unit.SI), s.Since(unit.SI)
	}
	return i
}

// Work calculates an example: the step before and after its change.
func (f *Formula) Work() (before, after *step.Step) {
	for i := range scenes {
		if scenes[i].name != f.Example.Scene {
			continue
		}
		before = f.in(judged()[i])
		after = f.in(steps(scenes[i].judge(f.Example.Change)))
	}
	return before, after
}

func (f *Formula) in(list step.List) *step.Step {
	id := f.Example.Step
	if id == "" {
		id = f.ID
	}
	for i := range list {
		if list[i].ID == id && (f.Symbol == "" || list[i].Symbol == f.Symbol) {
			return &list[i]
		}
	}
	return nil
}

// about is the example's scene in words.
func (f *Formula) about() string {
	for i := range scenes {
		if scenes[i].name == f.Example.Scene {
			return scenes[i].about
		}
	}
	return ""
}
