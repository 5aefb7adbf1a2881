package main

import (
	"context"
	"errors"

	"github.com/urfave/cli/v2"

	"platebook/render/photo"
	"platebook/render/text"
	"platebook/rules"
)

func checkCommand(t *talk) *cli.Command {
	return &cli.Command{
		Name:      "check",
		Usage:     "read and validate only, and print the findings",
		ArgsUsage: "FILE…",
		Action: func(c *cli.Context) error {
			return eachFile(c, t, func(ctx context.Context, j *job) error {
				j.photos = photo.ToCheck
				if err := j.read(ctx); err != nil {
					return err
				}
				return j.print(nil, true, c.NArg() > 1)
			})
		},
	}
}

// eachFile does the same to every file named; one that fails never stops the
// rest, and the worst exit code stands.
func eachFile(c *cli.Context, t *talk, do func(context.Context, *job) error) error {
	if _, _, err := t.level(); err != nil {
		return err
	}
	if t.limit < 0 {
		return &usageError{"--limit is 0 or more"}
	}
	if c.NArg() == 0 {
		return &usageError{c.Command.Name + " needs a workbook: platebook " + c.Command.Name + " FILE.xlsx"}
	}
	asOf, err := asOfDate(c)
	if err != nil {
		return err
	}
	var worst error
	for i, path := range c.Args().Slice() {
		t.stage(i, c.NArg(), path)
		j := &job{t: t, path: path, asOf: asOf}
		err := do(c.Context, j)
		switch {
		case err == nil, errors.As(err, new(findingsError)):
		default:
			err = j.failed(err)
		}
		if codeOf(err) > codeOf(worst) {
			worst = err
		}
		if c.Context.Err() != nil {
			return c.Context.Err()
		}
	}
	return worst
}

// print gives a file's outcome on stdout: findings in words, or the document.
func (j *job) print(made []text.Output, checkOnly, lines bool) error {
	if j.t.json {
		if err := text.JSON(j.t.out, j.a, text.Program{Version: version, Rules: rules.Version}, text.Made(relative(made)...), checkOnly, !lines); err != nil {
			return err
		}
	} else if err := j.t.findings(j.book.Inspection.File.Name, j.a); err != nil {
		return err
	}
	if j.t.failing(j.a.Findings) {
		return findingsError{}
	}
	return nil
}
