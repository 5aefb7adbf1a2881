package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"platebook/workbook"
)

// batchFile is one workbook of a batch.
type batchFile struct {
	path  string
	shown string // in lines and in the index
	out   string // folder of its outputs, "" beside it
	found bool   // in a folder; not named by the person
}

// batchList is what the arguments of a batch come to.
type batchList struct {
	files   []batchFile
	home    string   // where the index goes
	markers int      // ~$ files: they only mark an open workbook
	outputs int      // results of earlier runs
	others  []string // spreadsheets of a kind that is not read
	odd     []string // named like workbooks, but no files
	links   []string // to folders, which are not followed
	broken  []string // folders that cannot be read
	twice   []string // given more than once
	moved   []string // whose outputs would have taken another's names
}

// ownOutput is the name of a workbook that the program wrote: results, a
// review, an index.
var ownOutput = regexp.MustCompile(`(?i)\.(results|review|index)( \(\d+\))?\.xlsx$`)

// gatherBatch looks the arguments up: folders with all below them, files as
// given. It reads no workbook.
func gatherBatch(args []string, out string) *batchList {
	b := &batchList{home: out}
	add := func(path, shown, folder string, found bool) {
		b.files = append(b.files, batchFile{path: path, shown: filepath.ToSlash(shown), out: folder, found: found})
	}
	for _, arg := range args {
		info, err := os.Stat(arg)
		if b.home == "" {
			b.home = filepath.Dir(arg)
			if err == nil && info.IsDir() {
				b.home = arg
			}
		}
		switch {
		case err == nil && info.IsDir():
			b.folder(arg, out, len(args) > 1, add)
		case strings.HasPrefix(filepath.Base(arg), "~$"):
			b.markers++
		default: // also one that is not there: it fails by its name, and the rest goes on
			add(arg, arg, out, false)
		}
	}
	b.once()
	b.apart()
	return b
}

// once leaves one of several names for a file: its own before that of a link,
// else the first.
func (b *batchList) once() {
	name := map[string]int{}   // real path → which of the files
	given := map[string]bool{} // by a person, not only found in a folder
	real := make([]string, len(b.files))
	for i, f := range b.files {
		real[i] = f.path
		if to, err := filepath.EvalSymlinks(f.path); err == nil {
			real[i] = to
		}
		if full, err := filepath.Abs(real[i]); err == nil {
			real[i] = full
		}
		given[real[i]] = given[real[i]] || !f.found
		if first, ok := name[real[i]]; !ok || isLink(b.files[first].path) && !isLink(f.path) {
			name[real[i]] = i
		}
	}
	var files []batchFile
	for i, f := range b.files {
		if f.found = !given[real[i]]; name[real[i]] == i {
			files = append(files, f)
		} else {
			b.twice = append(b.twice, f.shown)
		}
	}
	b.files = files
}

func isLink(path string) bool {
	info, err := os.Lstat(path)
	return err == nil && info.Mode()&fs.ModeSymlink != 0
}

// folder adds the workbooks of a folder and all below it, as a person lists
// them: t2 before t10.
func (b *batchList) folder(root, out string, several bool, add func(path, shown, folder string, found bool)) {
	before := len(b.files)
	defer func() {
		slices.SortStableFunc(b.files[before:], func(x, y batchFile) int { return workbook.NaturalPaths(x.shown, y.shown) })
	}()
	_ = filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			why := err.Error()
			if p := (*fs.PathError)(nil); errors.As(err, &p) {
				why = p.Err.Error()
			}
			b.broken = append(b.broken, filepath.ToSlash(path)+": cannot be looked into: "+why)
			if d != nil && d.IsDir() {
				return fs.SkipDir
			}
			return nil
		}
		name := d.Name()
		if d.IsDir() {
			if path != root && strings.HasPrefix(name, ".") {
				return fs.SkipDir
			}
			return nil
		}
		info, staterr := os.Stat(path)
		switch ext := strings.ToLower(filepath.Ext(name)); {
		case staterr == nil && info.IsDir():
			b.links = append(b.links, filepath.ToSlash(path))
			return nil
		case strings.HasPrefix(name, "~$"):
			b.markers++
			return nil
		case strings.HasPrefix(name, "."):
			return nil
		case ext == ".xls" || ext == ".xlsb" || ext == ".ods" || ext == ".xltx":
			b.others = append(b.others, filepath.ToSlash(path))
			return nil
		case ext != ".xlsx" && ext != ".xlsm":
			return nil
		case ownOutput.MatchString(name):
			b.outputs++
			return nil
		}
		if staterr == nil && !info.Mode().IsRegular() {
			b.odd = append(b.odd, filepath.ToSlash(path))
			return nil
		}
		shown, err := filepath.Rel(root, path)
		if err != nil {
			shown = path
		}
		folder := out
		if out != "" {
			folder = filepath.Join(out, filepath.Dir(shown))
		}
		if several {
			shown = filepath.Join(filepath.Base(root), shown)
		}
		add(path, shown, folder, true)
		return nil
	})
}

// apart keeps two workbooks of one name from writing over each other's
// outputs: those of the later one go into a folder of their own.
func (b *batchList) apart() {
	taken := map[string]bool{}
	for i := range b.files {
		f := &b.files[i]
		home, name := f.out, stem(f.path)
		if home == "" {
			home = filepath.Dir(f.path)
		}
		dir := home
		for n := 2; taken[targetKey(dir, name)]; n++ {
			dir = filepath.Join(home, fmt.Sprintf("%s (%d)", name, n))
		}
		if dir != home {
			f.out = dir
			b.moved = append(b.moved, f.shown)
		}
		taken[targetKey(dir, name)] = true
	}
}

// targetKey is the same for outputs that would be the same file, also where
// the system does not tell upper from lower case.
func targetKey(dir, name string) string {
	if full, err := filepath.Abs(dir); err == nil {
		dir = full
	}
	return strings.ToLower(filepath.Join(dir, name))
}
