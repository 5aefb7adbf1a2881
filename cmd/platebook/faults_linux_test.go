package main

import (
	"bufio"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"platebook/workbook/hostile"
)

// points is how many faults of each kind a run of the tests makes:
// PLATEBOOK_FAULTS=200 for all of them, see .ci/faults.
func points(t *testing.T) int {
	if s := os.Getenv("PLATEBOOK_FAULTS"); s != "" {
		n, err := strconv.Atoi(s)
		if err != nil || n < 1 {
			t.Fatalf("PLATEBOOK_FAULTS=%s", s)
		}
		return n
	}
	if testing.Short() {
		return 2
	}
	return 8
}

var faultArgs = []string{"run", "--only", "xlsx,pdf,html,csv,json", "tank.xlsx"}

// reference is the workbook and what an undisturbed run makes of it, with the
// time that takes.
func reference(t *testing.T) (input []byte, whole map[string]string, took time.Duration, size int64) {
	t.Helper()
	dir := t.TempDir()
	input = hostile.Base("")
	write(t, filepath.Join(dir, "tank.xlsx"), input)
	start := time.Now()
	out, code, _ := program(t.Context(), dir, faultArgs...)
	took = time.Since(start)
	whole = tree(t, dir)
	if code != exitDone || len(whole) < 10 {
		t.Fatalf("code %d, %d files: %s", code, len(whole), out)
	}
	size = stored(dir)
	return input, whole, took, size
}

func write(t *testing.T, path string, data []byte) {
	t.Helper()
	if err := os.WriteFile(path, data, 0o666); err != nil {
		t.Fatal(err)
	}
}

// stored is how many bytes the files of a folder hold.
func stored(dir string) (n int64) {
	entries, _ := os.ReadDir(dir)
	for _, e := range entries {
		if info, err := e.Info(); err == nil {
			n += info.Size()
		}
	}
	return n
}

// unharmed fails when a file under a final name is not whole, or the input is
// not as it was, and tells how many temporary files lie there.
func unharmed(t *testing.T, what, dir string, whole map[string]string) (left int) {
	t.Helper()
	have := tree(t, dir)
	if have["tank.xlsx"] != whole["tank.xlsx"] {
		t.Errorf("%s: the input was changed", what)
	}
	for name, sum := range have {
		switch {
		case strings.HasPrefix(name, ".platebook-"):
			left++
		case whole[name] == "":
			t.Errorf("%s: %s was left", what, name)
		case whole[name] != sum:
			t.Errorf("%s: %s is not whole", what, name)
		}
	}
	return left
}

// clear takes away what runs have written.
func clearOutputs(t *testing.T, dir string, whole map[string]string) {
	t.Helper()
	for name := range whole {
		if name != "tank.xlsx" {
			if err := os.Remove(filepath.Join(dir, name)); err != nil && !errors.Is(err, os.ErrNotExist) {
				t.Fatal(err)
			}
		}
	}
}

// nextRun is a run after a fault: it writes everything and clears what the
// fault has left.
func nextRun(t *testing.T, what, dir string, whole map[string]string) {
	t.Helper()
	out, code, _ := program(t.Context(), dir, faultArgs...)
	if left := unharmed(t, what+", next run", dir, whole); code != exitDone || left > 0 || len(tree(t, dir)) != len(whole) {
		t.Errorf("%s: the next run: code %d, %d temporary files left: %.300s", what, code, left, out)
	}
}

// A program killed at any moment of a run, evenly in time and evenly in what
// it has written, leaves no partial file under a final name and the input as
// it was, and the next run is clean.
func TestKilledAtAnyMoment(t *testing.T) {
	input, whole, took, size := reference(t)
	dir, n, reached := t.TempDir(), points(t), 0
	write(t, filepath.Join(dir, "tank.xlsx"), input)
	for i := range n {
		clearOutputs(t, dir, whole)
		what := fmt.Sprintf("point %d of %d", i+1, n)
		cmd := command(t.Context(), dir, faultArgs...)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		ended := make(chan struct{})
		go func() {
			defer close(ended)
			_ = cmd.Wait()
		}()
		after, bytes := time.Duration(-1), int64(0)
		if i%2 == 0 {
			after = took * time.Duration(i+1) / time.Duration(n)
		} else {
			bytes = stored(dir) + (size-int64(len(input)))*int64(i)/int64(n)
		}
		start := time.Now()
	waiting:
		for {
			select {
			case <-ended:
				break waiting
			case <-time.After(300 * time.Microsecond):
			}
			if after >= 0 && time.Since(start) >= after || after < 0 && stored(dir) > bytes {
				break
			}
		}
		_ = cmd.Process.Kill()
		<-ended
		if !cmd.ProcessState.Exited() {
			reached++
		}
		unharmed(t, what, dir, whole)
		if i%10 == 9 || i == n-1 {
			nextRun(t, what, dir, whole)
		}
	}
	if reached < n/4 {
		t.Errorf("only %d of %d runs were killed before their end", reached, n)
	}
	t.Logf("%d of %d runs were killed before their end", reached, n)
}

// A file that takes no more at any size of it, as on a full disk or at a
// quota, ends the run with code 3 and what to do; nothing is left beside it.
func TestNoRoomAtAnySize(t *testing.T) {
	input, whole, _, _ := reference(t)
	dir, n, refused := t.TempDir(), points(t), 0
	write(t, filepath.Join(dir, "tank.xlsx"), input)
	for i := range n {
		clearOutputs(t, dir, whole)
		blocks := 2 * 600 * i / n // of 512 bytes; the report is the longest file
		out, code := limited(t, dir, blocks)
		what := fmt.Sprintf("files of %d blocks", blocks)
		if left := unharmed(t, what, dir, whole); left > 0 {
			t.Errorf("%s: %d temporary files left", what, left)
		}
		switch code {
		case exitFile:
			refused++
			if !strings.Contains(out, "do: ") || !strings.Contains(out, "unharmed") {
				t.Errorf("%s: says not what to do: %s", what, out)
			}
		case exitDone:
		default:
			t.Errorf("%s: code %d: %.300s", what, code, out)
		}
	}
	nextRun(t, "no room", dir, whole)
	if refused == 0 {
		t.Error("no run was refused")
	}
	t.Logf("%d of %d runs found no room", refused, n)
}

// limited runs the program with files that may not grow beyond so many blocks.
func limited(t *testing.T, dir string, blocks int) (string, int) {
	t.Helper()
	self := command(t.Context(), dir, faultArgs...)
	script := fmt.Sprintf(`trap '' XFSZ; ulimit -f %d; exec -a platebook "$0" "$@"`, (blocks+1)/2) // bash counts in 1024
	cmd := exec.CommandContext(t.Context(), "bash", append([]string{"-c", script, self.Path}, faultArgs...)...)
	cmd.Dir = dir
	out, _ := cmd.CombinedOutput()
	return string(out), cmd.ProcessState.ExitCode()
}

// A disk that is really full, where the test may make a small one.
func TestFullDisk(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=64k"); err != nil {
		t.Skipf("no small disk: %v", err)
	}
	defer func() { _ = syscall.Unmount(dir, syscall.MNT_DETACH) }()
	input, whole, _, size := reference(t)
	n, refused := points(t), 0
	for i := range n {
		room := int64(len(input)) + 8<<10 + size*int64(i)/int64(n)
		if err := syscall.Mount("tmpfs", dir, "tmpfs", syscall.MS_REMOUNT, fmt.Sprintf("size=%d", room)); err != nil {
			t.Fatal(err)
		}
		write(t, filepath.Join(dir, "tank.xlsx"), input)
		out, code, _ := program(t.Context(), dir, faultArgs...)
		what := fmt.Sprintf("disk of %d kB", room>>10)
		if left := unharmed(t, what, dir, whole); left > 0 {
			t.Errorf("%s: %d temporary files left", what, left)
		}
		if code == exitFile {
			refused++
			if !strings.Contains(out, "Free some room") {
				t.Errorf("%s: says not what to do: %s", what, out)
			}
		} else if code != exitDone {
			t.Errorf("%s: code %d: %.300s", what, code, out)
		}
		clearOutputs(t, dir, whole)
	}
	if err := syscall.Mount("tmpfs", dir, "tmpfs", syscall.MS_REMOUNT, "size=64m"); err != nil {
		t.Fatal(err)
	}
	nextRun(t, "full disk", dir, whole)
	if refused == 0 {
		t.Error("no run was refused")
	}
	t.Logf("%d of %d disks were full", refused, n)
}

// Ctrl-C in a batch ends it with 130; what it has told as finished is whole,
// of the rest there is nothing or the whole, and nothing temporary is left. An
// index of its own lists what is done and what is not; the one of an earlier
// batch stays.
func TestInterruptedBatch(t *testing.T) {
	input, whole, _, _ := reference(t)
	for _, after := range []int{1, 3} {
		dir := t.TempDir()
		for i := range 12 {
			sub := filepath.Join(dir, fmt.Sprintf("t%02d", i))
			if err := os.Mkdir(sub, 0o777); err != nil {
				t.Fatal(err)
			}
			write(t, filepath.Join(sub, "tank.xlsx"), input)
		}
		write(t, filepath.Join(dir, "tanks.index.csv"), []byte("of all tanks"))
		ctx, stop := context.WithTimeout(t.Context(), 5*time.Minute)
		defer stop()
		cmd := command(ctx, dir, "batch", "--jobs", "2", "--only", "xlsx,pdf,html,csv,json", ".")
		pipe, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		lines, told := 0, []string{}
		wrote := 0
		for s := bufio.NewScanner(pipe); s.Scan(); {
			if s.Text() == "wrote tanks.interrupted.index.xlsx" || s.Text() == "wrote tanks.interrupted.index.csv" {
				wrote++
				continue
			}
			name, _, _ := strings.Cut(s.Text(), "/")
			told = append(told, name)
			if lines++; lines == after {
				_ = cmd.Process.Signal(os.Interrupt)
			}
		}
		_ = cmd.Wait()
		if code := cmd.ProcessState.ExitCode(); code != exitInterrupted {
			t.Errorf("after %d lines: code %d", after, code)
		}
		for i := range 12 {
			name := fmt.Sprintf("t%02d", i)
			sub := filepath.Join(dir, name)
			if left := unharmed(t, name, sub, whole); left > 0 {
				t.Errorf("%s: %d temporary files left", name, left)
			}
			for _, done := range told {
				if done == name && len(tree(t, sub)) != len(whole) {
					t.Errorf("%s was told as finished and is not whole", name)
				}
			}
		}
		for name := range tree(t, dir) {
			if !strings.HasPrefix(name, "t") {
				t.Errorf("%s was left", name)
			}
		}
		index, err := os.ReadFile(filepath.Join(dir, "tanks.interrupted.index.csv"))
		if err != nil || wrote != 2 {
			t.Errorf("after %d lines: %d indexes, %v", after, wrote, err)
		}
		for i := range 12 {
			name := fmt.Sprintf("t%02d", i)
			if finished, not := slices.Contains(told, name), strings.Contains(string(index), ","+name+"/tank.xlsx,not done: the batch was interrupted\n"); finished == not {
				t.Errorf("after %d lines: %s told as finished is %v, in the index as not done is %v", after, name, finished, not)
			}
		}
		if all, err := os.ReadFile(filepath.Join(dir, "tanks.index.csv")); string(all) != "of all tanks" {
			t.Errorf("the index of an earlier batch is %q, %v", all, err)
		}
	}
}

// paused starts a run and stops it in the middle, when its first unfinished
// file lies in a folder; proceed lets it go on and gives what it says and its
// code.
func paused(t *testing.T, dir, watched string, who *syscall.Credential, args ...string) (proceed func() (string, int)) {
	t.Helper()
	cmd := command(t.Context(), dir, args...)
	var said strings.Builder
	cmd.Stdout, cmd.Stderr = &said, &said
	if who != nil { // who may not look into the folder of the test's own program
		self, err := os.ReadFile(cmd.Path)
		if err != nil {
			t.Fatal(err)
		}
		cmd.Path = filepath.Join(t.TempDir(), "platebook")
		if err := os.WriteFile(cmd.Path, self, 0o755); err != nil {
			t.Fatal(err)
		}
		for _, d := range []string{filepath.Dir(cmd.Path), filepath.Dir(filepath.Dir(cmd.Path))} {
			_ = os.Chmod(d, 0o755)
		}
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: who}
	}
	if err := cmd.Start(); err != nil {
		t.Skipf("cannot be started: %v", err)
	}
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		_ = cmd.Wait()
	}()
	for begun := false; !begun; time.Sleep(200 * time.Microsecond) {
		list, err := filepath.Glob(filepath.Join(watched, ".platebook-*"))
		if err != nil {
			t.Fatal(err)
		}
		begun = len(list) > 0
		select {
		case <-ended:
			t.Fatalf("ended before it could be stopped: %s", said.String())
		default:
		}
	}
	_ = cmd.Process.Signal(syscall.SIGSTOP)
	return func() (string, int) {
		_ = cmd.Process.Signal(syscall.SIGCONT)
		<-ended
		return said.String(), cmd.ProcessState.ExitCode()
	}
}

// What happens to the folder or the input in the middle of a run ends in words
// that say so, and in nothing partial.
func TestFolderAndInputInTheMiddle(t *testing.T) {
	input, whole, _, _ := reference(t)
	begin := func(t *testing.T) (dir, out string) {
		dir = t.TempDir()
		write(t, filepath.Join(dir, "tank.xlsx"), input)
		if err := os.Mkdir(filepath.Join(dir, "out"), 0o777); err != nil {
			t.Fatal(err)
		}
		return dir, filepath.Join(dir, "out")
	}
	args := slices.Concat([]string{"run", "--out", "out"}, faultArgs[1:])
	// sound fails when a file under a final name is not whole or a temporary
	// one is left, wherever.
	sound := func(t *testing.T, dir string) {
		t.Helper()
		have := tree(t, dir)
		for name, sum := range have {
			base := filepath.Base(name)
			switch {
			case strings.HasPrefix(base, ".platebook-"):
				t.Errorf("%s was left", name)
			case base == "tank.xlsx" || sum == fs.ModeDir.String() || base == "mine":
			case whole[base] != sum:
				t.Errorf("%s is not whole", name)
			}
		}
	}
	says := func(t *testing.T, said string, code, want int, words ...string) {
		t.Helper()
		if code != want {
			t.Errorf("code %d, want %d: %s", code, want, said)
		}
		for _, w := range words {
			if !strings.Contains(said, w) {
				t.Errorf("says not %q: %s", w, said)
			}
		}
	}
	const gone = "the folder out was removed or renamed meanwhile"
	t.Run("removed", func(t *testing.T) {
		dir, out := begin(t)
		proceed := paused(t, dir, out, nil, args...)
		if err := os.RemoveAll(out); err != nil {
			t.Fatal(err)
		}
		said, code := proceed()
		says(t, said, code, exitFile, gone, "do: Look where the folder went")
		sound(t, dir)
	})
	t.Run("renamed", func(t *testing.T) {
		dir, out := begin(t)
		proceed := paused(t, dir, out, nil, args...)
		if err := os.Rename(out, filepath.Join(dir, "elsewhere")); err != nil {
			t.Fatal(err)
		}
		said, code := proceed()
		says(t, said, code, exitFile, gone)
		sound(t, dir)
	})
	t.Run("renamed, and another in its place", func(t *testing.T) {
		dir, out := begin(t)
		proceed := paused(t, dir, out, nil, args...)
		if err := os.Rename(out, filepath.Join(dir, "elsewhere")); err != nil {
			t.Fatal(err)
		}
		if err := os.Mkdir(out, 0o777); err != nil {
			t.Fatal(err)
		}
		said, code := proceed()
		says(t, said, code, exitFile, gone)
		sound(t, dir)
	})
	t.Run("renamed, then Ctrl-C", func(t *testing.T) {
		dir, out := begin(t)
		cmd := command(t.Context(), dir, args...)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		for list := []string(nil); len(list) == 0; list, _ = filepath.Glob(filepath.Join(out, ".platebook-*")) {
			time.Sleep(200 * time.Microsecond)
		}
		_ = cmd.Process.Signal(syscall.SIGSTOP)
		if err := os.Rename(out, filepath.Join(dir, "elsewhere")); err != nil {
			t.Fatal(err)
		}
		_ = cmd.Process.Signal(os.Interrupt)
		_ = cmd.Process.Signal(syscall.SIGCONT)
		_ = cmd.Wait()
		says(t, "", cmd.ProcessState.ExitCode(), exitInterrupted)
		sound(t, dir)
	})
	t.Run("no right to write any more", func(t *testing.T) {
		if os.Getuid() != 0 {
			t.Skip("the program has to run as somebody else than who takes the right away")
		}
		dir, out := begin(t)
		for _, d := range []string{filepath.Dir(filepath.Dir(dir)), filepath.Dir(dir), dir, out} {
			_ = os.Chmod(d, 0o755)
		}
		const nobody = 65534
		_ = os.Chown(out, nobody, nobody)
		proceed := paused(t, dir, out, &syscall.Credential{Uid: nobody, Gid: nobody}, args...)
		_ = os.Chmod(out, 0o555)
		said, code := proceed()
		says(t, said, code, exitFile, "permission denied", "do: Write into a folder of your own: --out DIR; the input is unharmed.")
		_ = os.Chmod(out, 0o777)
		for name := range tree(t, dir) { // what stood there cannot be taken away without the right to
			if strings.HasPrefix(filepath.Base(name), ".platebook-") {
				_ = os.Remove(filepath.Join(dir, name))
			}
		}
		sound(t, dir)
	})
	for name, change := range map[string]func(path string) error{
		"input replaced": func(path string) error {
			if err := os.WriteFile(path+".new", []byte("other"), 0o666); err != nil {
				return err
			}
			return os.Rename(path+".new", path)
		},
		"input written": func(path string) error { return os.WriteFile(path, []byte("other"), 0o666) },
		"input removed": os.Remove,
		"input now a link": func(path string) error {
			if err := os.Rename(path, filepath.Join(filepath.Dir(path), "mine")); err != nil {
				return err
			}
			return os.Symlink("out/tank.results.xlsx", path)
		},
	} {
		t.Run(name, func(t *testing.T) {
			dir, out := begin(t)
			proceed := paused(t, dir, out, nil, args...)
			if err := change(filepath.Join(dir, "tank.xlsx")); err != nil {
				t.Fatal(err)
			}
			said, code := proceed()
			says(t, said, code, exitDone, "tank.xlsx was changed or replaced since it was read: the outputs are of the file with the SHA-256 "+digestOf(input))
			if got := tree(t, out); len(got) != len(whole)-1 {
				t.Errorf("%d outputs: %s", len(got), said)
			}
			if name != "input now a link" {
				sound(t, dir)
			}
		})
	}
	for name, c := range map[string]struct {
		taken func(dir, out string) error
		says  string
	}{
		"folders under the names": {func(_, out string) error {
			return errors.Join(os.Mkdir(filepath.Join(out, "tank.report.pdf"), 0o777), os.Mkdir(filepath.Join(out, "tank.results.xlsx"), 0o777))
		}, "tank.report.pdf is a folder; the report stands in tank.report (2).pdf"},
		"links to the input": {func(_, out string) error {
			return errors.Join(os.Symlink("../tank.xlsx", filepath.Join(out, "tank.report.pdf")), os.Symlink("../tank.xlsx", filepath.Join(out, "tank.results.xlsx")))
		}, "tank.report.pdf is the input, which is never written over; the report stands in tank.report (2).pdf"},
		"second names of the input": {func(dir, out string) error {
			return os.Link(filepath.Join(dir, "tank.xlsx"), filepath.Join(out, "tank.floor.html"))
		}, "tank.floor.html is the input, which is never written over; the floor page stands in tank.floor (2).html"},
		"link to nowhere": {func(_, out string) error { return os.Symlink("nowhere", filepath.Join(out, "tank.pieces.csv")) }, "tank.pieces.csv is a link that leads nowhere"},
		"pipe":            {func(_, out string) error { return syscall.Mkfifo(filepath.Join(out, "tank.result.json"), 0o666) }, "tank.result.json is a pipe or a device; the document stands in tank.result (2).json"},
	} {
		t.Run(name, func(t *testing.T) {
			dir, out := begin(t)
			if err := c.taken(dir, out); err != nil {
				t.Skip(err)
			}
			before := tree(t, dir)
			said, code, _ := program(t.Context(), dir, args...)
			says(t, said, code, exitDone, c.says)
			after := tree(t, dir)
			for n, sum := range before {
				if after[n] != sum {
					t.Errorf("%s was changed", n)
				}
			}
			if len(after)-len(before) != len(whole)-1 {
				t.Errorf("%d outputs: %s", len(after)-len(before), said)
			}
		})
	}
	t.Run("another file system", func(t *testing.T) {
		dir, out := begin(t)
		if err := syscall.Mount("tmpfs", out, "tmpfs", 0, "size=8m"); err != nil {
			t.Skipf("no other file system: %v", err)
		}
		defer func() { _ = syscall.Unmount(out, syscall.MNT_DETACH) }()
		said, code, _ := program(t.Context(), dir, args...)
		says(t, said, code, exitDone)
		sound(t, dir)
		if got := tree(t, out); len(got) != len(whole)-1 {
			t.Errorf("%d outputs", len(got))
		}
		_ = syscall.Mount("tmpfs", out, "tmpfs", syscall.MS_REMOUNT|syscall.MS_RDONLY, "size=8m")
		said, code, _ = program(t.Context(), dir, args...)
		says(t, said, code, exitFile, "read-only file system", "do: Write into a folder of your own")
		sound(t, dir)
	})
}

// Two runs, and two batches, that are started together on the same input write
// the same whole files, and each of them tells the same.
func TestTwoAtOnce(t *testing.T) {
	input, whole, _, _ := reference(t)
	together := func(dir string, args []string) (codes [2]int, said [2]string) {
		var wait sync.WaitGroup
		for i := range 2 {
			wait.Go(func() { said[i], codes[i], _ = program(t.Context(), dir, args...) })
		}
		wait.Wait()
		return codes, said
	}
	n := max(2, points(t)/10)
	for i := range n {
		dir := t.TempDir()
		write(t, filepath.Join(dir, "tank.xlsx"), input)
		codes, said := together(dir, faultArgs)
		if left := unharmed(t, fmt.Sprintf("pair %d", i+1), dir, whole); left > 0 || codes != [2]int{} || said[0] != said[1] || len(tree(t, dir)) != len(whole) {
			t.Errorf("pair %d: codes %v, %d temporary files left, %d files: %s\n%s", i+1, codes, left, len(tree(t, dir)), said[0], said[1])
		}
		codes, said = together(dir, faultArgs) // with outputs there that are replaced
		if left := unharmed(t, fmt.Sprintf("pair %d again", i+1), dir, whole); left > 0 || codes != [2]int{} || len(tree(t, dir)) != len(whole) {
			t.Errorf("pair %d again: codes %v, %d temporary files left: %s\n%s", i+1, codes, left, said[0], said[1])
		}
	}
	t.Run("batch", func(t *testing.T) {
		for range max(1, n/4) {
			dir := t.TempDir()
			for i := range 3 {
				sub := filepath.Join(dir, fmt.Sprintf("t%d", i))
				if err := os.Mkdir(sub, 0o777); err != nil {
					t.Fatal(err)
				}
				write(t, filepath.Join(sub, "tank.xlsx"), input)
			}
			codes, said := together(dir, []string{"batch", "--only", "xlsx,pdf,html,csv,json", "."})
			if codes != [2]int{} {
				t.Errorf("codes %v: %s\n%s", codes, said[0], said[1])
			}
			for i := range 3 {
				if left := unharmed(t, "batch", filepath.Join(dir, fmt.Sprintf("t%d", i)), whole); left > 0 {
					t.Errorf("%d temporary files left", left)
				}
			}
			index, err := os.ReadFile(filepath.Join(dir, "tanks.index.csv"))
			if err != nil || strings.Count(string(index), "\n") != 4 || strings.Contains(string(index), "no results") {
				t.Errorf("the index: %v: %s", err, index)
			}
			if out, code, _ := program(t.Context(), dir, "batch", "--only", "json", "--out", "alone", "."); code != exitDone {
				t.Errorf("code %d: %s", code, out)
			}
			if alone, err := os.ReadFile(filepath.Join(dir, "alone", "tanks.index.csv")); err != nil || string(alone) != string(index) {
				t.Errorf("the index of one batch alone is another: %v", err)
			}
		}
	})
	t.Run("numbered", func(t *testing.T) { // the target is the input: two runs never take one name
		dir := t.TempDir()
		write(t, filepath.Join(dir, "tank.xlsx"), input)
		if out, code, _ := program(t.Context(), dir, "run", "--only", "xlsx", "tank.xlsx"); code != exitDone {
			t.Fatalf("code %d: %s", code, out)
		}
		before := tree(t, dir)
		codes, said := together(dir, []string{"run", "--only", "xlsx", "tank.results.xlsx"})
		after := tree(t, dir)
		if codes != [2]int{} || after["tank.results.xlsx"] != before["tank.results.xlsx"] || after["tank.results (2).xlsx"] == "" || after["tank.results (3).xlsx"] != after["tank.results (2).xlsx"] || len(after) != 4 {
			t.Errorf("codes %v, %d files: %s\n%s", codes, len(after), said[0], said[1])
		}
	})
}

// Ctrl-C is heard while a report is set, which takes long where every place has
// a name as long as a cell: the program ends soon, and leaves nothing behind.
func TestInterruptedWhileSetting(t *testing.T) {
	var edits strings.Builder
	for row := 2; row <= 15; row++ {
		fmt.Fprintf(&edits, "Plates!A%d = \"%d %s\"\n", row, row, strings.Repeat("w ", 16_000))
	}
	input := hostile.Base(edits.String())
	for range 10 { // on a busy machine the run may be over before this test looks
		dir := t.TempDir()
		write(t, filepath.Join(dir, "tank.xlsx"), input)
		before := tree(t, dir)
		cmd := command(t.Context(), dir, "run", "--only", "pdf", "tank.xlsx")
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		over := make(chan struct{})
		go func() { _ = cmd.Wait(); close(over) }()
		for begun, ended := false, false; !begun && !ended; {
			list, err := filepath.Glob(filepath.Join(dir, ".platebook-*"))
			if err != nil {
				t.Fatal(err)
			}
			begun = len(list) > 0
			select {
			case <-over:
				ended = true
			case <-time.After(5 * time.Millisecond):
			}
		}
		_ = cmd.Process.Signal(os.Interrupt)
		<-over
		if after := tree(t, dir); after["tank.report.pdf"] != "" {
			continue
		} else if len(after) != len(before) || after["tank.xlsx"] != before["tank.xlsx"] {
			t.Errorf("left behind: %v", after)
		}
		if code := cmd.ProcessState.ExitCode(); code != exitInterrupted {
			t.Errorf("code %d", code)
		}
		return
	}
	t.Error("ten reports were set to their end in spite of Ctrl-C")
}

func digestOf(data []byte) string { return fmt.Sprintf("%x", sha256.Sum256(data)) }
