package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
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

// Ctrl-C is heard while a report is set, which takes long where every place has
// a name as long as a cell: the program ends soon, and leaves nothing behind.
func TestInterruptedWhileSetting(t *testing.T) {
	var edits strings.Builder
	for row := 2; row <= 15; row++ {
		fmt.Fprintf(&edits, "Plates!A%d = \"%d %s\"\n", row, row, strings.Repeat("w ", 16_000))
	}
	dir := t.TempDir()
	write(t, filepath.Join(dir, "tank.xlsx"), hostile.Base(edits.String()))
	before := tree(t, dir)
	cmd := command(t.Context(), dir, "run", "--only", "pdf", "tank.xlsx")
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	for begun := false; !begun; time.Sleep(5 * time.Millisecond) {
		list, err := filepath.Glob(filepath.Join(dir, ".platebook-*"))
		if err != nil {
			t.Fatal(err)
		}
		begun = len(list) > 0
		if len(tree(t, dir)) > len(before)+1 {
			t.Fatal("done before it could be interrupted")
		}
	}
	_ = cmd.Process.Signal(os.Interrupt)
	start := time.Now()
	_ = cmd.Wait()
	if took, code := time.Since(start), cmd.ProcessState.ExitCode(); code != exitInterrupted || took > 10*time.Second {
		t.Errorf("code %d after %s", code, took)
	}
	if after := tree(t, dir); len(after) != len(before) || after["tank.xlsx"] != before["tank.xlsx"] {
		t.Errorf("left behind: %v", after)
	}
}
