package main

import (
	"errors"
	"path/filepath"

	"github.com/urfave/cli/v2"

	"platebook/workbook/demo"
)

func demoCommand(t *talk) *cli.Command {
	return &cli.Command{
		Name:      "demo",
		Usage:     "write an example workbook with its photos and run it",
		ArgsUsage: "[DIR]",
		Action: func(c *cli.Context) error {
			if c.NArg() > 1 {
				return &usageError{"demo writes into one folder"}
			}
			dir := "platebook-demo"
			if c.NArg() == 1 {
				dir = c.Args().First()
			}
			var paths []string
			err := makeFolder(dir)
			if err == nil {
				paths, err = demo.Write(c.Context, dir)
			}
			if err != nil {
				return (&job{t: t, path: dir}).failed(err)
			}
			for _, p := range paths {
				t.tell("wrote %s", filepath.ToSlash(p))
			}
			var worst error
			for _, p := range paths[:len(paths)-1] {
				j := &job{t: t, path: p}
				err := j.run(c.Context, outputs{}, true)
				if err != nil && !errors.As(err, new(findingsError)) {
					err = j.failed(err)
				}
				if codeOf(err) > codeOf(worst) {
					worst = err
				}
			}
			t.tell("    next: open the report, then see how mistakes are told: platebook check %s", filepath.ToSlash(paths[len(paths)-1]))
			return worst
		},
	}
}
