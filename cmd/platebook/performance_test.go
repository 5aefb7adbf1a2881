//go:build unix

package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// TestPerformance measures and rewrites the tables of docs/performance.md when
// asked to: .ci/bench.
func TestPerformance(t *testing.T) {
	page := os.Getenv("PLATEBOOK_PERFORMANCE")
	if page == "" {
		t.Skip("no page named in PLATEBOOK_PERFORMANCE")
	}
	var out bytes.Buffer
	fmt.Fprintf(&out, "Measured with %s on %s/%s, %d processors.\n\n", runtime.Version(), runtime.GOOS, runtime.GOARCH, runtime.NumCPU())
	repeat, err := strconv.Atoi(os.Getenv("PLATEBOOK_REPEAT"))
	if err != nil || repeat < 1 {
		t.Fatal("how often to measure is not told")
	}
	m := meter{t: t, repeat: repeat, out: &out, dir: t.TempDir(), program: filepath.Join(t.TempDir(), "platebook")}
	if text, err := exec.Command("go", "build", "-o", m.program, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	m.folders()
	m.processes()
	m.batch()
	m.libraries()
	m.stages()
	const begin, end = "<!-- measured -->\n", "<!-- end of what is measured -->\n"
	old, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	head, rest, ok := strings.Cut(string(old), begin)
	_, tail, ok2 := strings.Cut(rest, end)
	if !ok || !ok2 {
		t.Fatalf("%s has no place for the tables", page)
	}
	if err := os.WriteFile(page, []byte(head+begin+"\n"+out.String()+"\n"+end+tail), 0o666); err != nil {
		t.Fatal(err)
	}
}

// taken is what something needed: the least of several times.
type taken struct {
	wall, cpu time.Duration // passed, and of all processors
	bytes     uint64        // allocated
	count     uint64        // allocations
	peak      uint64        // bytes of memory of a process
}

func (a *taken) least(b taken) {
	if a.wall == 0 {
		*a = b
		return
	}
	a.wall, a.cpu = min(a.wall, b.wall), min(a.cpu, b.cpu)
	a.bytes, a.count, a.peak = min(a.bytes, b.bytes), min(a.count, b.count), max(a.peak, b.peak)
}

type meter struct {
	t       *testing.T
	repeat  int
	out     *bytes.Buffer
	program string
	env     []string // beside this process's own
	dir     string   // of the workbooks
}

// folders has another process make the workbooks: what this one takes of
// memory would count for those that it starts.
func (m *meter) folders() {
	c := exec.Command(os.Args[0], "-test.run", "^TestMakeBig$")
	c.Env = append(os.Environ(), "PLATEBOOK_BIG="+m.dir)
	if text, err := c.CombinedOutput(); err != nil {
		m.t.Fatalf("%v\n%s", err, text)
	}
}

func (m *meter) folder(n int) string { return filepath.Join(m.dir, strconv.Itoa(n)) }

// times is how often a job of n indications is measured.
func (m *meter) times(n int) int {
	if n > 5000 {
		return (m.repeat + 2) / 3
	}
	return m.repeat
}

func cpuOf(u *syscall.Rusage) time.Duration {
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// here measures a function in this process.
func (m *meter) here(k int, run func() error) taken {
	m.t.Helper()
	var all taken
	for range k {
		runtime.GC()
		var before, after runtime.MemStats
		var from, to syscall.Rusage
		runtime.ReadMemStats(&before)
		_ = syscall.Getrusage(syscall.RUSAGE_SELF, &from)
		start := time.Now()
		if err := run(); err != nil {
			m.t.Fatal(err)
		}
		wall := time.Since(start)
		_ = syscall.Getrusage(syscall.RUSAGE_SELF, &to)
		runtime.ReadMemStats(&after)
		all.least(taken{wall: wall, cpu: cpuOf(&to) - cpuOf(&from), bytes: after.TotalAlloc - before.TotalAlloc, count: after.Mallocs - before.Mallocs})
	}
	return all
}

// process measures the program as a process of its own.
func (m *meter) process(k int, args ...string) taken {
	m.t.Helper()
	var all taken
	for range k {
		c := exec.Command(m.program, args...)
		c.Env = append(os.Environ(), m.env...)
		start := time.Now()
		err := c.Run()
		wall := time.Since(start)
		var exit *exec.ExitError
		if err != nil && (!errors.As(err, &exit) || exit.ExitCode() > exitFindings) {
			m.t.Fatalf("%v: %v", args, err)
		}
		u := c.ProcessState.SysUsage().(*syscall.Rusage)
		peak := uint64(u.Maxrss)
		if runtime.GOOS != "darwin" {
			peak <<= 10 // kilobytes
		}
		all.least(taken{wall: wall, cpu: cpuOf(u), peak: peak})
	}
	return all
}

func (m *meter) line(cells ...string) {
	fmt.Fprintf(m.out, "| %s |\n", strings.Join(cells, " | "))
}

func (m *meter) head(title, words string, cells ...string) {
	fmt.Fprintf(m.out, "## %s\n\n%s\n\n", title, words)
	m.line(cells...)
	rule := make([]string, len(cells))
	for i := range rule {
		rule[i] = "---:"
	}
	rule[0] = "---"
	m.line(rule...)
}

func seconds(d time.Duration) string {
	if d < 100*time.Millisecond {
		return strconv.FormatFloat(d.Seconds(), 'f', 4, 64)
	}
	return strconv.FormatFloat(d.Seconds(), 'f', 2, 64)
}

func megabytes(b uint64) string { return strconv.FormatFloat(float64(b)/1e6, 'f', 1, 64) }

func ratio(a, b time.Duration) string { return strconv.FormatFloat(float64(a)/float64(b), 'f', 1, 64) }

func (m *meter) processes() {
	m.head("The program as a process", "Start to end: the least of several runs, of the peak memory the most. “Processor” is the time of all processors together, which other work on the machine disturbs least; growth is of that time, from 5,000 to 50,000 indications.",
		"command", "indications", "passed, s", "processor, s", "peak memory, MB", "growth")
	all := []string{"run", "--quiet", "--limit", "1"}
	for _, c := range []struct {
		name  string
		args  []string
		twice bool
	}{
		{"`run`, all outputs", append(all, "--only", "xlsx,pdf,html,json"), false},
		{"`run --only xlsx`", append(all, "--only", "xlsx"), false},
		{"`run --only pdf`", append(all, "--only", "pdf"), false},
		{"`run --only pdf --preliminary`", append(all, "--only", "pdf", "--preliminary"), false},
		{"`check`", []string{"check", "--quiet", "--limit", "1"}, false},
		{"`compare`, `--only json`", []string{"compare", "--quiet", "--limit", "1", "--only", "json"}, true},
	} {
		of := map[int]taken{}
		for _, n := range bigSizes {
			args := append(c.args[:len(c.args):len(c.args)], "--out", filepath.Join(m.folder(n), "out "+c.name[1:5]+strconv.FormatBool(len(c.args) > 6)))
			if c.args[0] == "check" {
				args = c.args
			}
			args = append(args[:len(args):len(args)], filepath.Join(m.folder(n), "big.xlsx"))
			if c.twice {
				args = append(args[:len(args)-1:len(args)-1], filepath.Join(m.folder(n), "earlier", "big.xlsx"), args[len(args)-1])
			}
			of[n] = m.process(m.times(n), args...)
			growth := ""
			if n == 50000 {
				growth = ratio(of[n].cpu, of[5000].cpu)
			}
			m.line(c.name, strconv.Itoa(n), seconds(of[n].wall), seconds(of[n].cpu), megabytes(of[n].peak), growth)
		}
	}
	fmt.Fprintf(m.out, "\n")
	if info, err := os.Stat(filepath.Join(m.folder(5000), "out", "big.report.pdf")); err == nil {
		fmt.Fprintf(m.out, "The PDF of the job of 5,000 with its photos has %s MB.\n\n", megabytes(uint64(info.Size())))
	}
}

func (m *meter) libraries() {
	const n = 5000
	path := filepath.Join(m.folder(n), "big.xlsx")
	job := m.here(m.times(n), func() error {
		return whole("run", "--quiet", "--limit", "1", "--only", "xlsx,pdf,html,json", path)
	})
	m.head("Beside the libraries alone", "What general libraries need by themselves for the same reading and writing of the job of 5,000, without any check, calculation, drawing or layout; the same process, the least of several times.",
		"part", "passed, s", "processor, s", "MB allocated")
	var sum taken
	for _, s := range libraryStages(m.t, path, 237) {
		one := m.here(m.times(n), s.run)
		m.line(s.name, seconds(one.wall), seconds(one.cpu), megabytes(one.bytes))
		sum.wall, sum.cpu, sum.bytes = sum.wall+one.wall, sum.cpu+one.cpu, sum.bytes+one.bytes
	}
	m.line("libraries together", seconds(sum.wall), seconds(sum.cpu), megabytes(sum.bytes))
	m.line("the whole job, all outputs", seconds(job.wall), seconds(job.cpu), megabytes(job.bytes))
	m.line("ratio", ratio(job.wall, sum.wall), ratio(job.cpu, sum.cpu), "")
	fmt.Fprintf(m.out, "\n")
}

func (m *meter) batch() {
	m.head("A batch", "Workbooks of 500 indications each, all outputs but photos.", "files", "`--jobs`", "processors", "passed, s", "processor, s", "peak memory, MB")
	var alone, one, two time.Duration
	for _, c := range []struct {
		files int
		jobs  string
		cores int
	}{{8, "1", 1}, {8, "1", runtime.NumCPU()}, {8, "2", runtime.NumCPU()}, {32, "2", runtime.NumCPU()}} {
		m.env = []string{"GOMAXPROCS=" + strconv.Itoa(c.cores)}
		got := m.process(m.times(5000), "batch", "--quiet", "--jobs", c.jobs, filepath.Join(m.dir, "batch "+strconv.Itoa(c.files)))
		m.line(strconv.Itoa(c.files), c.jobs, strconv.Itoa(c.cores), seconds(got.wall), seconds(got.cpu), megabytes(got.peak))
		switch {
		case c.cores == 1:
			alone = got.wall
		case c.jobs == "1":
			one = got.wall
		case c.files == 8:
			two = got.wall
		}
	}
	m.env = nil
	times := func(a time.Duration) string { return strconv.FormatFloat(float64(a)/float64(two), 'f', 2, 64) }
	fmt.Fprintf(m.out, "\nTwo workers are %s times as fast as one worker on one processor (GOMAXPROCS=1), and %s times as fast as one whose outputs are made side by side on both.\n\n", times(alone), times(one))
}

func (m *meter) stages() {
	m.head("Part by part", "Each part by itself in a process that is warm; “results workbook” and “PDF report” check and calculate anew, since their outputs ask for sums that are found once. Allocations are of one run.",
		"part", "indications", "passed, s", "processor, s", "MB allocated", "allocations", "growth")
	of := map[string]map[int]taken{}
	var order []string
	for _, n := range bigSizes {
		for _, s := range stagesOf(m.t, n) {
			if of[s.name] == nil {
				of[s.name], order = map[int]taken{}, append(order, s.name)
			}
			of[s.name][n] = m.here(m.times(n), s.run)
		}
	}
	for _, name := range order {
		for _, n := range bigSizes {
			one, growth := of[name][n], ""
			if n == 50000 {
				growth = ratio(one.cpu, of[name][5000].cpu)
			}
			m.line(name, strconv.Itoa(n), seconds(one.wall), seconds(one.cpu), megabytes(one.bytes), strconv.FormatUint(one.count, 10), growth)
		}
	}
}
