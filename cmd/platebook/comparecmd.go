package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

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
	if c == nil || t.quiet {
		return
	}
	for _, r := range c.Refused {
		fmt.Fprintf(t.out, "  not compared: %s\n", strings.TrimPrefix(r.Message, "not compared: "))
	}
	if len(c.Refused) > 0 {
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
			if s.g.Governs == compare.ByLongTerm {
				governs = "long-term rate, " + unit.RateKind.TextUnit(sys, float64(s.g.LongTerm.V), 0) + ", governs"
			}
		}
		fmt.Fprintf(t.out, "    growth, %s side: %s; %s\n", s.name, rate, governs)
	}
	t.trended(c, sys)
	for _, n := range c.Notes {
		t.tell("  %s", n)
	}
}

// trended prints how many places were followed over three dates or more, and
// the fastest of those with a rate.
func (t *talk) trended(c *compare.Result, sys unit.System) {
	if len(c.Dates) < 3 {
		return
	}
	var fastest *compare.Trend
	fitted := 0
	for i := range c.Trends {
		r := &c.Trends[i]
		if !r.Fit.Rate.Known {
			continue
		}
		fitted++
		if fastest == nil || r.Fit.Rate.V > fastest.Fit.Rate.V {
			fastest = r
		}
	}
	fmt.Fprintf(t.out, "    trends over %d inspections: %s, %d with a rate by UT", len(c.Dates), count(len(c.Trends), "place"), fitted)
	if fastest != nil {
		text := func(r unit.Rate) string { return unit.RateKind.TextUnit(sys, float64(r), 0) }
		fmt.Fprintf(t.out, "; fastest %s at %s", text(fastest.Fit.Rate.V), fastest.Labels[len(fastest.Labels)-1])
		if h := fastest.Fit.Half; h.Known {
			fmt.Fprintf(t.out, ", 95 %% range ± %s", text(h.V))
		}
	}
	fmt.Fprintln(t.out)
}
