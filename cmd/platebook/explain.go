package main

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"platebook/rules/check"
)

func explainCommand(t *talk) *cli.Command {
	return &cli.Command{
		Name:      "explain",
		Usage:     "what a rule means, why it is there and what to do",
		ArgsUsage: "[RULE]",
		Action: func(c *cli.Context) error {
			if c.NArg() == 0 {
				for _, r := range check.All() {
					fmt.Fprintf(t.out, "%s  %s\n", r.Code, r.Title)
				}
				return nil
			}
			for _, name := range c.Args().Slice() {
				s := check.Explain(strings.ToUpper(name))
				if s == "" {
					return &usageError{fmt.Sprintf("no rule %q; platebook explain lists them", name)}
				}
				fmt.Fprintln(t.out, strings.TrimRight(s, "\n"))
			}
			return nil
		},
	}
}
