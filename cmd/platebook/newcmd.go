package main

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"github.com/urfave/cli/v2"

	"platebook/render/text"
	"platebook/rules/unit"
	"platebook/workbook"
	"platebook/workbook/save"
)

func newCommand(t *talk) *cli.Command {
	return &cli.Command{
		Name:      "new",
		Usage:     "write a blank workbook",
		ArgsUsage: "[FILE.xlsx]",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "units", Usage: "unit system of the workbook: si or us", Value: "si"},
			&cli.StringFlag{Name: "diameter", Usage: "inside diameter of the tank, as `30m` or 100ft: also fills Plates"},
			&cli.StringFlag{Name: "plate", Usage: "width and length of a whole plate, as `1.8x6m` or 6x20ft"},
			&cli.StringFlag{Name: "lap", Usage: "lap of the plates, as `50mm` or 2in"},
			&cli.StringFlag{Name: "annular", Usage: "width of an annular ring inside the shell, as `0.7m` or 28in"},
		},
		Action: func(c *cli.Context) error {
			if c.NArg() > 1 {
				return &usageError{"new writes one file"}
			}
			path := "inspection.xlsx"
			if c.NArg() == 1 {
				path = c.Args().First()
			}
			if !strings.EqualFold(path[max(0, len(path)-5):], ".xlsx") {
				return &usageError{fmt.Sprintf("%q: a workbook's name ends in .xlsx", path)}
			}
			opt, err := blankOptions(c)
			if err != nil {
				return err
			}
			var blank bytes.Buffer
			if err := workbook.Blank(&blank, opt); err != nil {
				return &usageError{err.Error()}
			}
			final, err := save.Save(c.Context, path, []string{path}, func(w io.Writer) error { _, err := w.Write(blank.Bytes()); return err }, nil)
			if err != nil {
				return (&job{t: t, path: path}).failed(err)
			}
			if t.quiet {
				return nil
			}
			fmt.Fprintf(t.out, "wrote %s\n", text.Plain(final))
			t.tell("    next: fill in Tank, Plates, Indications and Prove-ups (the sheet Guide says how), then: platebook check %s", final)
			return nil
		},
	}
}

func blankOptions(c *cli.Context) (workbook.BlankOptions, error) {
	var o workbook.BlankOptions
	switch strings.ToLower(c.String("units")) {
	case "si":
	case "us":
		o.Units = unit.US
	default:
		return o, &usageError{fmt.Sprintf("--units %q: si or us", c.String("units"))}
	}
	if (c.String("diameter") == "") != (c.String("plate") == "") {
		return o, &usageError{"--diameter and --plate go together"}
	}
	if c.String("diameter") == "" && (c.String("lap") != "" || c.String("annular") != "") {
		return o, &usageError{"--lap and --annular go with --diameter and --plate"}
	}
	for _, f := range []struct {
		flag string
		to   []*unit.Length
	}{
		{"diameter", []*unit.Length{&o.Diameter}},
		{"plate", []*unit.Length{&o.PlateWidth, &o.PlateLength}},
		{"lap", []*unit.Length{&o.Lap}},
		{"annular", []*unit.Length{&o.AnnularWidth}},
	} {
		s := c.String(f.flag)
		if s == "" {
			continue
		}
		sizes, err := workbook.ParseSize(s)
		if err != nil {
			return o, &usageError{fmt.Sprintf("--%s: %s", f.flag, err)}
		}
		if len(sizes) != len(f.to) {
			return o, &usageError{fmt.Sprintf("--%s %q: %s", f.flag, s, map[int]string{1: "one size, as 30m", 2: "width x length, as 1.8x6m"}[len(f.to)])}
		}
		for i := range sizes {
			*f.to[i] = sizes[i]
		}
	}
	return o, nil
}
