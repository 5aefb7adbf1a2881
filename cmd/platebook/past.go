package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"platebook/render/photo"
	"platebook/rules"
	"platebook/rules/compare"
	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/workbook"
)

// past is the inspections that an inspection is compared with: those given, or
// else the one that its Previous workbook names.
type past struct {
	paths   []string
	renamed []compare.Renamed
}

// earlier reads and judges them. A Previous workbook that cannot be read is
// told and never stops the rest; one given on the command line does.
func (j *job) earlier(ctx context.Context, in *inspection.Inspection) (rules.Past, error) {
	p := rules.Past{Renamed: j.past.renamed}
	if len(j.past.paths) == 0 {
		named := in.Tank.PreviousWorkbook
		if !named.OK() {
			return p, nil
		}
		path, why := beside(filepath.Dir(j.path), named.Value)
		if why == "" {
			old, err := j.readEarlier(ctx, path)
			if err == nil {
				p.Earlier = append(p.Earlier, old)
				j.past.paths = append(j.past.paths, path)
				return p, nil
			}
			if errors.Is(err, context.Canceled) {
				return p, err
			}
			why = "Previous workbook: " + err.Error()
		}
		p.Missing, p.Ref = why, named.Ref
		return p, nil
	}
	for _, path := range j.past.paths {
		old, err := j.readEarlier(ctx, path)
		if err != nil {
			return p, err
		}
		p.Earlier = append(p.Earlier, old)
	}
	return p, nil
}

// readEarlier reads and judges one of them.
func (j *job) readEarlier(ctx context.Context, path string) (compare.Survey, error) {
	old := &job{t: j.t, path: path}
	if err := old.open(ctx); err != nil {
		return compare.Survey{}, &otherFile{filepath.Base(path), err}
	}
	start := time.Now()
	s := rules.Earlier(old.book.Inspection, old.book.Hits)
	j.t.detail("%s: checked in %s", filepath.Base(path), since(start))
	return s, ctx.Err()
}

// otherFile is an error of a file that is not the workbook of the job.
type otherFile struct {
	name string
	err  error
}

// Error names the file where its own text does not.
func (e *otherFile) Error() string {
	if text := e.err.Error(); strings.Contains(text, e.name) {
		return text
	}
	return e.name + ": " + e.err.Error()
}

func (e *otherFile) Unwrap() error { return e.err }

// beside is the path of a file named in a workbook: relative to its folder, in
// it or below it. A name that leads outside is refused, also through a link: a
// workbook from somebody else must not make the program read other files.
func beside(dir, name string) (path, why string) {
	const how = "; put the file beside this workbook, or give both: platebook compare OLD NEW"
	rel, err := photo.Local(name)
	if err != nil {
		why, _ := photo.Advice(err)
		return "", "Previous workbook “" + name + "” " + why + how
	}
	rel = filepath.FromSlash(rel)
	root, err := os.OpenRoot(dir)
	if err != nil {
		return "", "Previous workbook " + name + " is not beside this workbook"
	}
	defer root.Close()
	switch info, err := root.Stat(rel); {
	case errors.Is(err, os.ErrNotExist):
		return "", "Previous workbook " + name + " is not beside this workbook"
	case err != nil:
		return "", "Previous workbook " + name + " leads out of this workbook's folder" + how
	case !info.Mode().IsRegular():
		return "", "Previous workbook " + name + " is not a file"
	}
	return filepath.Join(dir, rel), ""
}

// labelList reads the list of plates whose label changed: two columns, the
// label then and the label now. A first row with the words old and new is a
// header.
func labelList(path string) ([]compare.Renamed, error) {
	name := filepath.Base(path)
	pairs, err := workbook.ReadPairs(path, "the label then and the label now")
	if err != nil {
		return nil, &otherFile{name, err}
	}
	wrong := func(format string, args ...any) error {
		return &otherFile{name, &finding.Unusable{Message: fmt.Sprintf(format, args...), Do: "Give two columns, the label then and the label now, one plate a line."}}
	}
	var out []compare.Renamed
	from, to := map[string]int{}, map[string]int{}
	for i, p := range pairs {
		if i == 0 && strings.Contains(strings.ToLower(p.From), "old") && strings.Contains(strings.ToLower(p.To), "new") {
			continue
		}
		o, w := inspection.Fold(p.From), inspection.Fold(p.To)
		if at := from[o]; o != "" && at > 0 {
			return nil, wrong("line %d: label %s then stands on line %d already", p.Line, p.From, at)
		}
		if at := to[w]; w != "" && at > 0 {
			return nil, wrong("line %d: label %s now stands on line %d already", p.Line, p.To, at)
		}
		from[o], to[w] = p.Line, p.Line
		if p.To != "" {
			out = append(out, compare.Renamed{Old: p.From, New: p.To})
		}
	}
	if len(out) == 0 {
		return nil, wrong("no pair of labels")
	}
	return out, nil
}
