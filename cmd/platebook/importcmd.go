package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"platebook/workbook"
	"platebook/workbook/save"
)

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
			&cli.StringFlag{Name: "out", Usage: "write the copy to `DIR` instead of beside the workbook"},
		},
		Action: func(c *cli.Context) error {
			if c.NArg() != 1 || c.String("sheet") == "" || c.String("into") == "" {
				return &usageError{"import needs a sheet, a CSV file and a workbook: platebook import --sheet Indications FILE.csv --into BOOK.xlsx"}
			}
			comma, err := separator(c.String("separator"))
			if err != nil {
				return err
			}
			j := &job{t: t, path: c.String("into")}
			err = j.importList(c.Context, c.Args().First(), c.String("sheet"), c.String("map"), c.String("out"), comma)
			if err == nil || errors.As(err, new(findingsError)) || errors.Is(err, context.Canceled) {
				return err
			}
			return j.failed(err)
		},
	}
}

func separator(text string) (rune, error) {
	switch text {
	case "":
		return 0, nil
	case ",", ";", "|":
		return rune(text[0]), nil
	case "tab", `\t`, "\t":
		return '\t', nil
	}
	return 0, &usageError{fmt.Sprintf("--separator %q: , ; | or tab", text)}
}

// readList reads a list or a list of headers.
func readList(path string) ([]byte, error) {
	data, err := workbook.ListBytes(path)
	if err != nil {
		return nil, &otherFile{filepath.Base(path), err}
	}
	return data, nil
}

func (j *job) importList(ctx context.Context, path, sheet, mapping, dir string, comma rune) error {
	data, err := readList(path)
	if err != nil {
		return err
	}
	list, err := workbook.ReadList(filepath.Base(path), data, comma)
	if err != nil {
		return &otherFile{filepath.Base(path), err}
	}
	inputs := []string{j.path, path}
	var mapped map[string]string
	if mapping != "" {
		inputs = append(inputs, mapping)
		data, err := readList(mapping)
		if err != nil {
			return err
		}
		if mapped, err = workbook.HeaderMap(filepath.Base(mapping), data); err != nil {
			return &otherFile{filepath.Base(mapping), err}
		}
	}
	book, err := workbook.Open(ctx, j.path, workbook.Options{})
	if err != nil {
		return err
	}
	m, err := workbook.NewImport(book, sheet, list, mapped)
	if err != nil {
		return err
	}
	if dir == "" {
		dir = filepath.Dir(j.path)
	}
	if err := makeFolder(dir); err != nil {
		return err
	}
	for _, n := range append(list.Notes, m.Notes...) {
		j.t.tell("%s", n)
	}
	for _, n := range m.Left {
		j.t.say("not taken: %s", n)
	}
	name := filepath.Base(j.path)
	ext := filepath.Ext(name)
	copied, err := m.Write(ctx, filepath.Join(dir, strings.TrimSuffix(name, ext)+".imported"+ext), inputs)
	if err != nil {
		return err
	}
	fmt.Fprintf(j.t.out, "%s: %s added to %s, %s refused\n", filepath.Base(path), count(m.Rows, "row"), m.Sheet, count(len(m.Refused), "row"))
	for i, r := range m.Refused {
		if j.t.limit > 0 && i == j.t.limit {
			fmt.Fprintf(j.t.out, "first %d of %d refused rows\n", i, len(m.Refused))
			break
		}
		fmt.Fprintf(j.t.out, "%s, line %d: refused: %s\n", filepath.Base(path), r.Line, strings.Join(r.Reasons, "; "))
	}
	fmt.Fprintf(j.t.out, "wrote %s\n", filepath.ToSlash(copied))
	if len(m.Refused) == 0 {
		return nil
	}
	base := filepath.Base(path)
	refused, err := save.Save(ctx, filepath.Join(dir, strings.TrimSuffix(base, filepath.Ext(base))+".refused.csv"), inputs, m.WriteRefused, nil)
	if err != nil {
		return err
	}
	fmt.Fprintf(j.t.out, "wrote %s\n", filepath.ToSlash(refused))
	if j.t.failOn == "never" {
		return nil
	}
	return findingsError{}
}
