package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"

	"github.com/urfave/cli/v2"

	"platebook/render/pdf"
	"platebook/render/photo"
	"platebook/render/report"
	"platebook/render/text"
	"platebook/rules"
	"platebook/rules/check"
	"platebook/rules/review"
	"platebook/workbook"
	"platebook/workbook/save"
)

func reviewCommand(t *talk) *cli.Command {
	return &cli.Command{
		Name:      "review",
		Usage:     "run a results workbook again from its own inputs and list what differs",
		ArgsUsage: "FILE",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "against", Usage: "list the input cells that differ from `OTHER.xlsx`, by the results they change"},
			&cli.StringSliceFlag{Name: "earlier", Usage: "the earlier inspection `OLD.xlsx` that the results were compared with"},
			&cli.IntFlag{Name: "sample", Usage: "draw `N` results to check by hand", Value: 12},
			&cli.StringFlag{Name: "out", Usage: "write the review to `DIR` instead of beside the file"},
		},
		Action: func(c *cli.Context) error {
			if _, _, err := t.level(); err != nil {
				return err
			}
			if c.NArg() != 1 {
				return &usageError{"review takes one results workbook: platebook review NAME.results.xlsx"}
			}
			if c.Int("sample") < 0 {
				return &usageError{"--sample is 0 or more"}
			}
			j := &job{t: t, path: c.Args().First(), past: past{paths: c.StringSlice("earlier")}}
			err := j.review(c.Context, reviewing{against: c.String("against"), dir: c.String("out"), sample: c.Int("sample")})
			if err == nil || errors.As(err, new(findingsError)) || errors.Is(err, context.Canceled) {
				return err
			}
			return j.failed(err)
		},
	}
}

// reviewing is what a reviewer asks for.
type reviewing struct {
	against string
	dir     string
	sample  int
}

func (j *job) review(ctx context.Context, o reviewing) error {
	rec := workbook.Record{Version: version, Rules: rules.Version}
	if err := j.again(ctx); err != nil {
		return err
	}
	r, err := workbook.Review(ctx, j.book, j.a, rec, o.sample, j.unseen)
	if err != nil {
		return err
	}
	inputs := j.inputs()
	if o.against != "" {
		other := &job{t: j.t, path: o.against, beside: 2}
		if err := other.again(ctx); err != nil {
			return &otherFile{filepath.Base(o.against), err}
		}
		inputs = append(inputs, other.inputs()...)
		r.Against, err = workbook.Revisions(ctx, workbook.Revision{Book: j.book, Assessment: j.a}, workbook.Revision{Book: other.book, Assessment: other.a}, rec)
		if err != nil {
			return err
		}
	}
	made, err := j.writeReview(ctx, o.dir, inputs, r, rec)
	if err != nil {
		return err
	}
	return j.printReview(r, rec, made)
}

// again reads and judges a results workbook as it was run.
func (j *job) again(ctx context.Context) error {
	book, err := workbook.OpenAgain(ctx, j.path)
	if err != nil {
		return err
	}
	j.book = book
	in := book.Inspection
	makeRoom(len(in.Indications)+len(in.ProveUps)+len(in.Readings), max(1, j.beside), len(j.past.paths))
	j.album = openAlbum(filepath.Dir(j.path), book.Inspection.Photos, photo.ToCheck)
	var photos check.Photos = j.album
	if n := j.album.missing(book.Inspection.Photos); n > 0 && !book.Tells("R109") {
		photos, j.unseen = nil, n // sent without them; they were there when it was run
	}
	before, err := j.earlier(ctx, book.Inspection)
	if err != nil {
		return err
	}
	j.a = rules.AssessSince(book.Inspection, book.Hits, photos, before)
	return ctx.Err()
}

func (j *job) writeReview(ctx context.Context, dir string, inputs []string, r *review.Review, rec workbook.Record) ([]text.Output, error) {
	if dir == "" {
		dir = filepath.Dir(j.path)
	}
	if err := makeFolder(dir); err != nil {
		return nil, err
	}
	base := filepath.Join(dir, stem(j.path)+".review")
	book, err := workbook.WriteReview(ctx, base+".xlsx", inputs, j.book, r, rec)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", base+".xlsx", err)
	}
	lines := workbook.ReviewLines(j.book.File.Name, j.a.Inspection.File.SHA256, r, rec)
	page := report.Review(j.a, r, lines, filepath.Base(book))
	var info pdf.Info
	paper, err := save.Save(ctx, base+".pdf", inputs, func(w io.Writer) (err error) {
		info, err = pdf.Write(w, page)
		return err
	}, nil)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", base+".pdf", err)
	}
	return []text.Output{{Kind: "xlsx", File: book}, {Kind: "pdf", File: paper, Pages: info.Pages}}, nil
}

// printReview gives a review on stdout: its findings before those of the
// workbook itself in the document, alone in words.
func (j *job) printReview(r *review.Review, rec workbook.Record, made []text.Output) error {
	own := r.Findings()
	if j.t.json {
		a := *j.a
		a.Findings = append(own, a.Findings...)
		a.Counts = check.Count(a.Findings)
		if err := text.ReviewJSON(j.t.out, &a, r, text.Program{Version: version, Rules: rules.Version}, text.Made(relative(made)...), true); err != nil {
			return err
		}
	} else {
		if err := j.t.reviewed(j.book.File.Name, own, r, workbook.ReviewLines(j.book.File.Name, j.a.Inspection.File.SHA256, r, rec)); err != nil {
			return err
		}
		j.t.wrote(made)
	}
	if r.Differs() && j.t.failOn != "never" {
		return findingsError{}
	}
	return nil
}
