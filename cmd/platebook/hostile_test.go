package main

import (
	"archive/zip"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/csv"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"platebook/workbook/hostile"
)

// What one hostile input may take.
const (
	hostileTime   = 20 * time.Second
	hostileMemory = 1 << 30
)

// Every damaged or hostile input ends with the code and the words expected of
// it, in bounded time and memory, with its bytes as they were, and nothing of
// a person's text becomes anything that a program would carry out. Every fourth
// one is tried; with PLATEBOOK_HOSTILE=all in the environment, all are.
func TestHostileInput(t *testing.T) {
	if testing.Short() {
		t.Skip("some hundred runs of the program")
	}
	all := os.Getenv("PLATEBOOK_HOSTILE") == "all"
	names, kinds := map[string]bool{}, map[string]int{}
	for _, c := range hostile.Cases() {
		name := c.Kind + ": " + c.Name
		if names[name] {
			t.Fatalf("%s stands twice", name)
		}
		names[name] = true
		kinds[c.Kind]++
		if !all && kinds[c.Kind]%6 != 1 {
			continue
		}
		t.Run(name, func(t *testing.T) {
			t.Parallel() // what a case takes is counted in its own processor time
			attack(t, c)
		})
	}
	if len(names) < 200 {
		t.Errorf("%d cases", len(names))
	}
}

func attack(t *testing.T, c hostile.Case) {
	outer := t.TempDir()
	dir := filepath.Join(outer, "work")
	if err := os.Mkdir(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	if err := c.Make(dir); errors.Is(err, errors.ErrUnsupported) {
		t.Skip(err)
	} else if err != nil {
		t.Fatal(err)
	}
	before := tree(t, outer)
	ctx, stop := context.WithTimeout(t.Context(), 10*hostileTime)
	defer stop()
	out, code, used := program(ctx, dir, c.Args...)
	if code != c.Code && (c.Code != hostile.Any || code != exitDone && code != exitFindings) {
		t.Errorf("code %d, want %d: %.600s", code, c.Code, out)
	}
	if !strings.Contains(strings.Join(strings.Fields(out), " "), c.Says) {
		t.Errorf("said %.600q, want %q", out, c.Says)
	}
	if strings.Contains(out, "goroutine ") || strings.Contains(out, "panic") {
		t.Errorf("a stack: %.600s", out)
	}
	if i := strings.IndexFunc(out, func(r rune) bool { return r < ' ' && r != '\n' && r != '\t' || r == 0x7f }); i >= 0 {
		t.Errorf("a control character on the terminal: %.80q", out[max(0, i-40):])
	}
	if used.time > hostileTime || used.memory > hostileMemory {
		t.Errorf("took %s of processor time and %d MB", used.time, used.memory>>20)
	}
	after := tree(t, outer)
	for path, sum := range before {
		if after[path] != sum {
			t.Errorf("%s was changed", path)
		}
		delete(after, path)
	}
	for path := range after {
		switch {
		case !strings.HasPrefix(path, "work/tank.") && !strings.HasPrefix(path, "work/list."):
			t.Errorf("%s was written", path)
		case code > exitFindings:
			t.Errorf("%s was written although the input is of no use", path)
		}
		inert(t, filepath.Join(outer, filepath.FromSlash(path)))
	}
	if testing.Verbose() {
		t.Logf("code %d, %s, %d MB: %.300q", code, used.time.Round(time.Millisecond), used.memory>>20, out)
	}
}

// usage is what a run of the program took.
type usage struct {
	time   time.Duration // of the processor
	memory int64         // most resident bytes, 0 where the system does not tell
}

// program runs the program in a process of its own.
func program(ctx context.Context, dir string, args ...string) (out string, code int, used usage) {
	cmd := command(ctx, dir, args...)
	b, err := cmd.CombinedOutput()
	if cmd.ProcessState == nil {
		return err.Error(), -2, used
	}
	used = usage{cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime(), peak(cmd.ProcessState)}
	return string(b), cmd.ProcessState.ExitCode(), used
}

// command is the program as a child of the test, which holds it, see TestMain.
func command(ctx context.Context, dir string, args ...string) *exec.Cmd {
	self, err := os.Executable()
	if err != nil {
		panic(err)
	}
	cmd := exec.CommandContext(ctx, self)
	cmd.Args = append([]string{"platebook"}, args...)
	cmd.Dir = dir
	return cmd
}

// tree is a hash of each file below a folder, by its path with slashes; of
// links where they lead, of others their kind.
func tree(t *testing.T, root string) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || path == root {
			return err
		}
		rel, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		sum := d.Type().String()
		switch {
		case d.Type()&fs.ModeSymlink != 0:
			if sum, err = os.Readlink(path); err != nil {
				return err
			}
		case d.Type().IsRegular():
			f, err := os.Open(path)
			if err != nil {
				return err
			}
			defer f.Close()
			h := sha256.New()
			if _, err := io.Copy(h, f); err != nil {
				return err
			}
			sum = string(h.Sum(nil))
		}
		all[filepath.ToSlash(rel)] = sum
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// inert fails when an output holds something of a person's text where a
// program that opens it would carry it out.
func inert(t *testing.T, path string) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Error(err)
		return
	}
	name := filepath.Base(path)
	switch filepath.Ext(path) {
	case ".xlsx":
		inertBook(t, name, data)
	case ".csv":
		inertList(t, name, data)
	case ".html":
		inertPage(t, name, string(data))
	case ".json":
		if !json.Valid(data) {
			t.Errorf("%s is no JSON", name)
		}
	case ".pdf":
		data = regexp.MustCompile(`(?s)stream\r?\n.*?endstream`).ReplaceAll(data, nil)
		if live := regexp.MustCompile(`/(JavaScript|JS|Launch|EmbeddedFile|OpenAction|AA)\b`).Find(data); live != nil || !bytes.HasPrefix(data, []byte("%PDF-")) {
			t.Errorf("%s holds %s", name, live)
		}
	}
}

var (
	formulas = regexp.MustCompile(`(?s)<(?:\w+:)?(?:f|formula|formula1|formula2|definedName|calculatedColumnFormula)\b[^>]*>([^<]*)<`)
	arrows   = regexp.MustCompile(`<Relationship [^>]*TargetMode="External"[^>]*>`)
)

// inertBook: the mark stands in no formula, no name, no outside arrow that the
// input had not already.
func inertBook(t *testing.T, name string, data []byte) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return
	}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		b, err := io.ReadAll(r)
		if err != nil {
			t.Errorf("%s: %s: %v", name, f.Name, err)
		}
		for _, m := range append(formulas.FindAll(b, -1), arrows.FindAll(b, -1)...) {
			if bytes.Contains(m, []byte(hostile.Mark)) && !strings.Contains(t.Name(), "own") {
				t.Errorf("%s: %s holds %.200s", name, f.Name, m)
			}
		}
	}
}

// inertList: no field begins as a formula does, but for plain numbers.
func inertList(t *testing.T, name string, data []byte) {
	r := csv.NewReader(bytes.NewReader(data))
	r.FieldsPerRecord = -1
	number := regexp.MustCompile(`^-?[0-9.]+([eE][-+]?[0-9]+)?$`)
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			t.Errorf("%s: %v", name, err)
			return
		}
		for _, field := range row {
			if s := strings.TrimLeft(field, " \t\r\n\u00a0\ufeff"); s != "" && strings.ContainsRune("=+-@＝＋－＠", []rune(s)[0]) && len(s) > 1 && !number.MatchString(s) {
				t.Errorf("%s: a field begins as a formula: %.80q", name, field)
			}
			if strings.ContainsAny(field[:min(1, len(field))], "\t\r") {
				t.Errorf("%s: a field begins with a tab or line end: %.80q", name, field)
			}
		}
	}
}

// inertPage: the mark stands in no tag.
func inertPage(t *testing.T, name, page string) {
	if m := regexp.MustCompile(`<(script|img|svg)[^>]*>?\s*` + hostile.Mark).FindString(page); m != "" {
		t.Errorf("%s: %s", name, m)
	}
	for _, m := range regexp.MustCompile(`<[a-z][^<>]*>`).FindAllString(page, -1) {
		bare := regexp.MustCompile(`"[^"]*"`).ReplaceAllString(m, "")
		if strings.Contains(bare, hostile.Mark) {
			t.Errorf("%s: %.200s", name, m)
		}
	}
}
