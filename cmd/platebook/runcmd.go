package main

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"platebook/render/text"
	"platebook/rules/unit"
)

func runCommand(t *talk) *cli.Command {
	return &cli.Command{
		Name:      "run",
		Usage:     "validate, calculate, and write the results workbook, the report and the floor page",
		ArgsUsage: "FILE…",
		Flags:     outputFlags(),
		Action: func(c *cli.Context) error {
			o, err := outputsOf(c)
			if err != nil {
				return err
			}
			var before []string
			return eachFile(c, t, func(ctx context.Context, j *job) error {
				j.before = before
				err := j.run(ctx, o, c.NArg() > 1)
				before = append(before, j.wrote...)
				return err
			})
		},
	}
}

// outputFlags are the options of every command that writes outputs.
func outputFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringFlag{Name: "out", Usage: "write outputs to `DIR` instead of beside the input"},
		&cli.StringFlag{Name: "only", Usage: "write only these, divided by commas: `xlsx,pdf,html,json,csv`"},
		&cli.BoolFlag{Name: "preliminary", Usage: "make the same-day repair list in place of the full report"},
		&cli.BoolFlag{Name: "photos", Usage: "carry small photos in the floor page"},
		&cli.StringFlag{Name: "as-of", Usage: "time base in place of the Report date, as `2026-05-01`"},
	}
}

func outputsOf(c *cli.Context) (outputs, error) {
	o := outputs{dir: c.String("out"), photos: c.Bool("photos"), preliminary: c.Bool("preliminary")}
	if only := c.String("only"); c.IsSet("only") {
		for _, kind := range strings.Split(only, ",") {
			kind = strings.ToLower(strings.TrimSpace(kind))
			if !slices.Contains(outputKinds, kind) {
				return o, &usageError{fmt.Sprintf("--only %q: xlsx, pdf, html, json or csv", kind)}
			}
			o.only = append(o.only, kind)
		}
	}
	return o, nil
}

func (j *job) run(ctx context.Context, o outputs, lines bool) error {
	j.photos = o.purpose()
	j.target = targetOf(j.path, o.dir)
	if err := j.read(ctx); err != nil {
		return err
	}
	made, err := j.write(ctx, o)
	if err != nil {
		return err
	}
	for _, m := range made {
		j.wrote = append(j.wrote, m.File)
	}
	j.renamed(made)
	outcome := j.print(made, false, lines)
	if !j.t.json {
		j.t.headline(j.a)
		j.t.compared(j.a.Comparison, j.a.Inspection.Units)
		j.t.wrote(made)
	}
	return outcome
}

// wrote lists the files, and says so where one got another name.
func (t *talk) wrote(made []text.Output) {
	for _, o := range made {
		pages := ""
		if o.Pages > 0 {
			pages = fmt.Sprintf(" (%s)", count(o.Pages, "page"))
		}
		fmt.Fprintf(t.out, "wrote %s%s\n", text.Plain(filepath.ToSlash(o.File)), pages)
	}
}

func asOfDate(c *cli.Context) (unit.Date, error) {
	s := c.String("as-of")
	if s == "" {
		return 0, nil
	}
	d, err := unit.ParseDate(s)
	if err != nil {
		return 0, &usageError{"--as-of: " + err.Error()}
	}
	return d, nil
}
