package save

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"platebook/rules/finding"
)

func put(text string) func(io.Writer) error {
	return func(w io.Writer) error { _, err := io.WriteString(w, text); return err }
}

func get(t *testing.T, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// only fails when the folder holds anything else.
func only(t *testing.T, dir string, names ...string) {
	t.Helper()
	list, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range list {
		got = append(got, e.Name())
	}
	if len(got) != len(names) {
		t.Errorf("folder holds %q, want %q", got, names)
	}
	for _, n := range names {
		if _, err := os.Lstat(filepath.Join(dir, n)); err != nil {
			t.Errorf("%v", err)
		}
	}
}

func TestSaveReplacesAnOldFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.xlsx")
	for _, text := range []string{"one", "two"} {
		final, err := Save(context.Background(), path, nil, put(text), func(tmp string) error {
			if got := get(t, tmp); got != text {
				t.Errorf("verify sees %q", got)
			}
			return nil
		})
		if err != nil || final != path || get(t, path) != text {
			t.Errorf("%q %v: %q", final, err, get(t, path))
		}
	}
	only(t, dir, "a.xlsx")
}

func TestSaveNeverWritesOverAnInput(t *testing.T) {
	dir := t.TempDir()
	in := filepath.Join(dir, "in.xlsx")
	if err := os.WriteFile(in, []byte("input"), 0o600); err != nil {
		t.Fatal(err)
	}
	soft, hard := filepath.Join(dir, "soft.xlsx"), filepath.Join(dir, "hard.xlsx")
	if err := os.Symlink(in, soft); err != nil {
		t.Skip("no symbolic links here")
	}
	if err := os.Link(in, hard); err != nil {
		t.Skip("no hard links here")
	}
	for _, target := range []string{in, soft, hard, filepath.Join(dir, ".", "sub", "..", "in.xlsx")} {
		final, err := Save(context.Background(), filepath.Clean(target), []string{in}, put("output"), nil)
		if err != nil || final == target || get(t, final) != "output" {
			t.Errorf("%s: %q %v", target, final, err)
		}
	}
	if get(t, in) != "input" || get(t, soft) != "input" || get(t, hard) != "input" {
		t.Error("the input changed")
	}
	only(t, dir, "in.xlsx", "soft.xlsx", "hard.xlsx", "in (2).xlsx", "in (3).xlsx", "soft (2).xlsx", "hard (2).xlsx")
}

func TestSaveLeavesNothingBehind(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.xlsx")
	if err := os.WriteFile(path, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	broken := errors.New("broken")
	ctx, cancel := context.WithCancel(context.Background())
	for name, c := range map[string]struct {
		write  func(io.Writer) error
		verify func(string) error
		want   error
	}{
		"write":  {func(w io.Writer) error { _ = put("half")(w); return broken }, nil, broken},
		"verify": {put("new"), func(string) error { return broken }, broken},
	} {
		if _, err := Save(ctx, path, nil, c.write, c.verify); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
	}
	_, err := Save(ctx, path, nil, func(w io.Writer) error { cancel(); return put("half")(w) }, nil)
	if !errors.Is(err, context.Canceled) {
		t.Errorf("cancel: %v", err)
	}
	if get(t, path) != "old" {
		t.Error("the old file changed")
	}
	only(t, dir, "a.xlsx")
	if _, err := Save(context.Background(), filepath.Join(dir, "none", "a.xlsx"), nil, put("x"), nil); err == nil || bytes.Contains([]byte(err.Error()), []byte(".platebook-")) {
		t.Errorf("missing folder: %v", err)
	}
}

func TestSaveGoesBesideAFolder(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.xlsx")
	if err := os.Mkdir(path, 0o700); err != nil {
		t.Fatal(err)
	}
	final, err := Save(context.Background(), path, nil, put("x"), nil)
	if err != nil || filepath.Base(final) != "a (2).xlsx" {
		t.Errorf("%q %v", final, err)
	}
}

// A temporary file whose process is no more is removed by the next run in the
// folder; one that is being written, or of another computer, stays.
func TestLeftFilesAreRemoved(t *testing.T) {
	dir := t.TempDir()
	gone := exec.Command(os.Args[0], "-test.run", "^$")
	if err := gone.Run(); err != nil {
		t.Fatal(err)
	}
	left := fmt.Sprintf(".platebook-%s-%d-1234.pdf", computer(), gone.Process.Pid)
	earlier := fmt.Sprintf(".platebook-%s-%d-1234.xlsx", computer(), os.Getpid())
	busy := fmt.Sprintf(".platebook-%s-%d-77.xlsx", computer(), os.Getppid())
	other := ".platebook-00000000-1-77.xlsx"
	for _, name := range []string{left, earlier, busy, other, ".platebook-", "notes.txt"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte("x"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := Save(context.Background(), filepath.Join(dir, "a.pdf"), nil, func(w io.Writer) error { _, err := w.Write([]byte("a")); return err }, nil); err != nil {
		t.Fatal(err)
	}
	only(t, dir, busy, other, ".platebook-", "a.pdf", "notes.txt")
}

// On Windows no output is a device, a stream in the input, or a file whose name
// loses its end.
func TestNameable(t *testing.T) {
	for _, name := range []string{"NUL.results.xlsx", "com1.report.pdf", "aux .floor.html", "tank.xlsx:s.results.xlsx", "tank.results.xlsx.", "a?.xlsx"} {
		var u *finding.Unusable
		if err := nameable(name, true); !errors.As(err, &u) || u.Do == "" {
			t.Errorf("%s on Windows: %v", name, err)
		}
		if err := nameable(name, false); err != nil {
			t.Errorf("%s elsewhere: %v", name, err)
		}
	}
	for _, name := range []string{"tank.results.xlsx", "tank.results (2).xlsx", "console.report.pdf"} {
		if err := nameable(name, true); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}
