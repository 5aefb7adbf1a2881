package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"platebook/render/text"
	"platebook/workbook"
	"platebook/workbook/save"
)

// leftNamed is how many columns of a list that are not taken are named.
const leftNamed = 100

func importCommand(t *talk) *cli.Command {
	return &cli.Command{
		Name:      "import",
		Usage:     "add the rows of a CSV file to a sheet of a workbook, in a copy",
		ArgsUsage: "FILE.csv",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "sheet", Usage: "`SHEET` that the rows go to, as Indications"},
			&cli.StringFlag{Name: "into", Usage: "`BOOK.xlsx` that is copied"},
			&cli.StringFlag{Name: "map", Usage: "a `FILE.csv` with the list's headers and the sheet's"},
			&cli.StringFlag{Name: "separator", Usage: "what divides the columns, `,` ; | or tab; found out when not given"},
			&cli.StringFlag{Name: "decimal", Usage: "the decimal sign, `comma` or point; asked for only where 1,250 can be two numbers"},
			&cli.StringFlag{Name: "out", Usage: "write the copy to `DIR` instead of beside the workbook"},
		},
		Action: func(c *cli.Context) error {
			if _, _, err := t.level(); err != nil {
				return err
			}
			if c.NArg() > 1 {
				return &usageError{"import takes one CSV file at a time: platebook import --sheet Indications FILE.csv --into BOOK.xlsx"}
			}
			if c.NArg() == 0 || c.String("sheet") == "" || c.String("into") == "" {
				return &usageError{"import needs a sheet, a CSV file and a workbook: platebook import --sheet Indications FILE.csv --into BOOK.xlsx"}
			}
			if sheet := c.String("sheet"); !workbook.TakesRows(sheet) {
				return &usageError{"no sheet with rows is called " + sheet + "; name one of: " + strings.Join(workbook.RowSheets(), ", ")}
			}
			o := importing{list: c.Args().First(), sheet: c.String("sheet"), mapping: c.String("map"), dir: c.String("out")}
			var err error
			if o.comma, err = separator(c.String("separator")); err != nil {
				return err
			}
			if o.point, err = decimalSign(c.String("decimal")); err != nil {
				return err
			}
			j := &job{t: t, path: c.String("into")}
			err = j.importList(c.Context, o)
			if err == nil || errors.As(err, new(findingsError)) || errors.Is(err, context.Canceled) {
				return err
			}
			return j.failed(err)
		},
	}
}

func separator(s string) (rune, error) {
	switch s {
	case "":
		return 0, nil
	case ",", ";", "|":
		return rune(s[0]), nil
	case "tab", `\t`, "\t":
		return '\t', nil
	}
	return 0, &usageError{fmt.Sprintf("--separator %q: , ; | or tab", s)}
}

func decimalSign(s string) (rune, error) {
	switch strings.ToLower(s) {
	case "":
		return 0, nil
	case "comma", ",":
		return ',', nil
	case "point", ".":
		return '.', nil
	}
	return 0, &usageError{fmt.Sprintf("--decimal %q: comma or point", s)}
}

// importing is what a person asks of an import.
type importing struct {
	list, sheet, mapping, dir string

	comma, point rune // 0: to be found out
}

func (j *job) importList(ctx context.Context, o importing) error {
	base := filepath.Base(o.list)
	list, err := workbook.ReadListFile(o.list, o.comma)
	if err != nil {
		return &otherFile{base, err}
	}
	list.Point = o.point
	inputs := []string{j.path, o.list}
	var mapped map[string]string
	if o.mapping != "" {
		inputs = append(inputs, o.mapping)
		if mapped, err = workbook.HeaderMap(o.mapping); err != nil {
			return &otherFile{filepath.Base(o.mapping), err}
		}
	}
	book, err := workbook.Open(ctx, j.path, workbook.Options{})
	if err != nil {
		return err
	}
	m, err := workbook.NewImport(book, o.sheet, list, mapped)
	if err != nil {
		if strings.HasPrefix(err.Error(), base) { // it is the list that is wrong
			return &otherFile{base, err}
		}
		return err
	}
	dir := o.dir
	if dir == "" {
		dir = filepath.Dir(j.path)
	}
	if err := makeFolder(dir); err != nil {
		return err
	}
	for _, n := range append(list.Notes, m.Notes...) {
		j.t.tell("%s", text.Line(n))
	}
	left := m.Left
	if len(left) > leftNamed {
		left = append(slices.Clone(left[:leftNamed]), fmt.Sprintf("%d more", len(left)-leftNamed))
	}
	for _, n := range left {
		j.t.say("not taken: %s", text.Line(n))
	}
	var made []text.Output
	if m.Rows > 0 {
		name := filepath.Base(j.path)
		ext := filepath.Ext(name)
		copied, err := m.Write(ctx, filepath.Join(dir, strings.TrimSuffix(name, ext)+".imported"+ext), inputs)
		if err != nil {
			return err
		}
		made = append(made, text.Output{Kind: "xlsx", File: copied})
	} else {
		j.t.say("no row to add: no copy is written")
	}
	if len(m.Refused) > 0 {
		refused, err := save.Save(ctx, filepath.Join(dir, strings.TrimSuffix(base, filepath.Ext(base))+".refused.csv"), inputs, m.WriteRefused, nil)
		if err != nil {
			return err
		}
		made = append(made, text.Output{Kind: "csv", File: refused})
	}
	if err := j.imported(base, m, made); err != nil {
		return err
	}
	if n := len(m.InDoubt); n > 0 && list.Point == 0 {
		j.t.say("%s refused for a number that can be two", count(n, "row"))
		j.t.say("    do: say which sign the list uses: --decimal comma or --decimal point")
	}
	if len(m.Refused) == 0 || strings.EqualFold(j.t.failOn, "never") {
		return nil
	}
	return findingsError{}
}

// imported tells what an import took and refused, in words or as a document.
func (j *job) imported(list string, m *workbook.Import, made []text.Output) error {
	if j.t.json {
		type refused struct {
			Line    int      `json:"line"`
			Reasons []string `json:"reasons"`
		}
		doc := struct {
			Schema  string        `json:"schema"`
			List    string        `json:"list"`
			Sheet   string        `json:"sheet"`
			Added   int           `json:"added"`
			Refused []refused     `json:"refused"`
			Left    []string      `json:"not_taken"`
			Outputs []text.Output `json:"outputs"`
		}{"platebook.import/1", list, m.Sheet, m.Rows, []refused{}, append([]string{}, m.Left...), relative(made)}
		for _, r := range m.Refused {
			doc.Refused = append(doc.Refused, refused{r.Line, r.Reasons})
		}
		s, err := asJSON(doc)
		fmt.Fprint(j.t.out, s)
		return err
	}
	list = text.Line(list)
	fmt.Fprintf(j.t.out, "%s: %s added to %s, %s refused\n", list, count(m.Rows, "row"), m.Sheet, count(len(m.Refused), "row"))
	for i, r := range m.Refused {
		if j.t.limit > 0 && i == j.t.limit {
			fmt.Fprintf(j.t.out, "first %d of %d refused rows\n", i, len(m.Refused))
			break
		}
		fmt.Fprintf(j.t.out, "%s, line %d: refused: %s\n", list, r.Line, text.Line(strings.Join(r.Reasons, "; ")))
	}
	j.t.wrote(made)
	return nil
}
