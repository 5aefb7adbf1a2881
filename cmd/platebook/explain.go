package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"platebook/rules/check"
	"platebook/rules/criteria"
	"platebook/rules/method"
	"platebook/rules/unit"
)

func explainCommand(t *talk) *cli.Command {
	return &cli.Command{
		Name:      "explain",
		Usage:     "what a rule, a formula or a criterion means, why, an example before and after, its source",
		ArgsUsage: "[RULE|FORMULA|CRITERION…]",
		Action: func(c *cli.Context) error {
			if c.NArg() == 0 {
				return t.explainList()
			}
			texts := make([]string, 0, c.NArg())
			for _, name := range c.Args().Slice() {
				text, err := t.explain(name)
				if err != nil {
					return err
				}
				texts = append(texts, strings.TrimRight(text, "\n"))
			}
			between := "\n\n"
			if t.json {
				between = "\n"
			}
			fmt.Fprintln(t.out, strings.Join(texts, between))
			return nil
		},
	}
}

// head begins each JSON document of explain.
type head struct {
	Schema string `json:"schema"`
	Kind   string `json:"kind"` // rule, formula, criterion
}

type explainedRule struct {
	Code   string `json:"code"`
	Title  string `json:"title"`
	Class  string `json:"class"`
	Per    string `json:"per"`
	What   string `json:"wrong_when"`
	Why    string `json:"why"`
	Before string `json:"before"`
	After  string `json:"after"`
	Do     string `json:"do,omitempty"`
	Source string `json:"source"`
	Since  string `json:"since"`
}

type explainedCriterion struct {
	Name    string   `json:"name"`
	Means   string   `json:"means"`
	Words   []string `json:"words,omitempty"`
	SI      string   `json:"default_si"`
	US      string   `json:"default_us"`
	UnitSI  string   `json:"unit_si,omitempty"`
	UnitUS  string   `json:"unit_us,omitempty"`
	Mark    string   `json:"mark"`
	Clause  string   `json:"clause,omitempty"`
	Section int      `json:"section"`
}

const explainSchema = "platebook.explain/1"

// explain is the text, or with --json the document, of one name.
func (t *talk) explain(name string) (string, error) {
	name = strings.TrimSpace(name)
	var text string
	var doc any
	if r, ok := check.Find(name); ok {
		text = check.Explain(r.Code)
		doc = struct {
			head
			explainedRule
		}{head{explainSchema, "rule"}, explainedRule{r.Code, r.Title, r.Class.String(), r.Per.String(), r.What, r.Why, r.Before, r.After, r.Do, r.Source, r.Since}}
	} else if e := method.Entry(name); e != nil {
		text = e.Text()
		doc = struct {
			head
			*method.Explained
		}{head{explainSchema, "formula"}, e}
	} else if d := findCriterion(name); d != nil {
		text = explainCriterion(d)
		doc = struct {
			head
			explainedCriterion
		}{head{explainSchema, "criterion"}, explainedCriterion{
			string(d.Name), d.Help, d.Words, d.SI, d.US, d.Unit(unit.SI), d.Unit(unit.US), string(d.Mark), d.Clause, d.Section,
		}}
	} else {
		return "", unknownName(name)
	}
	if !t.json {
		return text, nil
	}
	return asJSON(doc)
}

func asJSON(doc any) (string, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(doc)
	return b.String(), err
}

// unknownName says what comes near a word that explain does not know.
func unknownName(name string) error {
	near := ""
	if found := method.Near(name, explainNames()); found != nil {
		near = "; near are " + strings.Join(found, ", ")
	}
	return &usageError{fmt.Sprintf("no rule, formula or criterion %q%s; platebook explain lists them", name, near)}
}

func explainNames() []string {
	names := method.Names()
	for _, r := range check.All() {
		names = append(names, r.Code)
	}
	for _, d := range criteria.Table {
		names = append(names, string(d.Name))
	}
	return names
}

func findCriterion(name string) *criteria.Definition {
	for i := range criteria.Table {
		if strings.EqualFold(string(criteria.Table[i].Name), name) {
			return &criteria.Table[i]
		}
	}
	return nil
}

func explainCriterion(d *criteria.Definition) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n\nMeans: %s\n", d.Name, d.Help)
	value := func(s unit.System) string {
		if d.Default(s) == "" {
			return "blank: none"
		}
		return strings.TrimSpace(d.Default(s) + " " + d.Unit(s))
	}
	si, us := value(unit.SI), value(unit.US)
	if si == us {
		fmt.Fprintf(&b, "Default: %s\n", si)
	} else {
		fmt.Fprintf(&b, "Default: %s; in a US workbook %s\n", si, us)
	}
	if len(d.Words) > 0 {
		fmt.Fprintf(&b, "Words: %s\n", strings.Join(d.Words, ", "))
	}
	fmt.Fprintf(&b, "Source: %s\n", strings.TrimSuffix(string(d.Mark)+", "+d.Clause, ", "))
	fmt.Fprintf(&b, "Used in: section %d of the method\n", d.Section)
	return b.String()
}

// explainList is every name with its title: rules, formulas, functions,
// criteria.
func (t *talk) explainList() error {
	if t.json {
		type entry struct {
			Kind  string `json:"kind"`
			Name  string `json:"name"`
			Title string `json:"title"`
		}
		list := []entry{}
		for _, r := range check.All() {
			list = append(list, entry{"rule", r.Code, r.Title})
		}
		for _, f := range method.Show() {
			list = append(list, entry{"formula", f.Name(), f.Title})
		}
		for _, c := range method.Checks {
			list = append(list, entry{"formula", c.ID, c.Title})
		}
		for _, f := range method.Functions() {
			list = append(list, entry{"formula", f.ID, f.Title()})
		}
		for _, d := range criteria.Table {
			list = append(list, entry{"criterion", string(d.Name), d.Help})
		}
		text, err := asJSON(struct {
			Schema string  `json:"schema"`
			Names  []entry `json:"names"`
		}{explainSchema, list})
		fmt.Fprint(t.out, text)
		return err
	}
	for _, r := range check.All() {
		fmt.Fprintf(t.out, "%s  %s\n", r.Code, r.Title)
	}
	fmt.Fprint(t.out, "\nFormulas of the calculation's steps\n")
	for _, l := range method.List() {
		fmt.Fprintln(t.out, l)
	}
	fmt.Fprint(t.out, "\nRules for repairs\n")
	for _, c := range method.Checks {
		fmt.Fprintf(t.out, "%-24s %s\n", c.ID, c.Title)
	}
	fmt.Fprint(t.out, "\nFormulas of functions\n")
	for _, f := range method.Functions() {
		fmt.Fprintln(t.out, f.ID)
	}
	fmt.Fprint(t.out, "\nCriteria\n")
	for _, d := range criteria.Table {
		fmt.Fprintln(t.out, d.Name)
	}
	return nil
}
