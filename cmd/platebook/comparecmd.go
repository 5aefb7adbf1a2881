package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/urfave/cli/v2"

	"platebook/rules/compare"
	"platebook/rules/unit"
)

func compareCommand(t *talk) *cli.Command {
	return &cli.Command{
		Name:      "compare",
		Usage:     "set an inspection beside earlier ones: what grew, what is new, how fast",
		ArgsUsage: "OLD… NEW",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "map", Usage: "plates whose label changed: a `FILE.csv` with the label then and the label now"},
		}, outputFlags()...),
		Action: func(c *cli.Context) error {
			if _, _, err := t.level(); err != nil {
				return err
			}
			if c.NArg() < 2 {
				return &usageError{"compare needs two workbooks or more, the newest last: platebook compare OLD.xlsx NEW.xlsx"}
			}
			o, err := outputsOf(c)
			if err != nil {
				return err
			}
			asOf, err := asOfDate(c)
			if err != nil {
				return err
			}
			files := c.Args().Slice()
			last := len(files) - 1
			j := &job{t: t, path: files[last], asOf: asOf, past: past{paths: files[:last]}}
			if name := c.String("map"); name != "" {
				if j.past.renamed, err = labelList(name); err != nil {
					return j.failed(err)
				}
			}
			err = j.run(c.Context, o, false)
			if err == nil || errors.As(err, new(findingsError)) || errors.Is(err, context.Canceled) {
				return err
			}
			return j.failed(err)
		},
	}
}

// compared prints what a comparison found in a few lines.
func (t *talk) compared(c *compare.Result, sys unit.System) {
	if c == nil || t.quiet || len(c.Refused) > 0 {
		return
	}
	fmt.Fprintf(t.out, "  compared with %s, %s before\n", c.Old().In.File.Name, years(c.Years))
	for _, k := range compare.Classes {
		if n := c.Count[k]; n > 0 {
			fmt.Fprintf(t.out, "    %s: %d\n", k.Words(), n)
		}
	}
	for _, s := range []struct {
		name string
		g    *compare.SideGrowth
	}{{"soil", &c.Soil}, {"product", &c.Product}} {
		rate := "none measured"
		if s.g.Growth.Known {
			rate = unit.RateKind.TextUnit(sys, float64(s.g.Growth.V), 0) + " at " + s.g.At
		}
		governs := "no rate is known"
		if s.g.Governs != "" {
			governs = s.g.Governs + " governs"
		}
		fmt.Fprintf(t.out, "    growth, %s side: %s; %s\n", s.name, rate, governs)
	}
	for _, n := range c.Notes {
		t.tell("  %s", n)
	}
}
