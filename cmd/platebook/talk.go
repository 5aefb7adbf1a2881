package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	"strings"
	"sync"
	"syscall"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"

	"platebook/render/text"
	"platebook/rules"
	"platebook/rules/check"
	"platebook/rules/finding"
	"platebook/rules/review"
)

// talk is the only place that prints to people: results on stdout, the rest
// on stderr.
type talk struct {
	out, err io.Writer
	printed  *printed // out of the program itself, nil for that of one workbook of a batch

	json, quiet, verbose, noColour bool
	limit                          int
	failOn                         string

	mu  sync.Mutex
	bar *progressbar.ProgressBar
}

func newTalk(out, err io.Writer) *talk {
	p := &printed{w: out}
	return &talk{out: p, err: err, printed: p, limit: 50, failOn: "error"}
}

// printed is what goes to stdout, and whether all of it could: findings that
// nobody saw are no reason to end as if all were well.
type printed struct {
	w   io.Writer
	err error
}

func (p *printed) Write(b []byte) (int, error) {
	n, err := p.w.Write(b)
	if err != nil && p.err == nil && !leftOff(err) {
		p.err = err
	}
	return n, err
}

// leftOff says that who reads has had enough, as head does.
//
// Source: POSIX errno.h; Microsoft, “System Error Codes”: 109 broken pipe, 232
// pipe being closed.
func leftOff(err error) bool {
	number := syscall.Errno(0)
	return errors.Is(err, syscall.EPIPE) || runtime.GOOS == "windows" && errors.As(err, &number) && (number == 109 || number == 232)
}

func terminal(w io.Writer) bool {
	if p, ok := w.(*printed); ok {
		w = p.w
	}
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// colour is used on a terminal only, and not when NO_COLOR is set.
func (t *talk) colour() text.Colour {
	return text.Colour(!t.noColour && os.Getenv("NO_COLOR") == "" && terminal(t.out))
}

// say prints a line to the person, in any mode.
func (t *talk) say(format string, args ...any) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.wipe()
	for line := range strings.SplitSeq(fmt.Sprintf(format, args...), "\n") {
		fmt.Fprintln(t.err, text.Plain(line))
	}
}

// tell prints a line of talk, unless quiet.
func (t *talk) tell(format string, args ...any) {
	if !t.quiet {
		t.say(format, args...)
	}
}

// detail prints a line only when asked to be verbose.
func (t *talk) detail(format string, args ...any) {
	if t.verbose && !t.quiet {
		t.say(format, args...)
	}
}

// stage shows what is being done, on a terminal only and at most ten times a
// second; it is wiped at the end.
func (t *talk) stage(done, total int, what string) {
	if t.quiet || t.json || !terminal(t.err) {
		return
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.bar == nil {
		t.bar = progressbar.NewOptions(total, progressbar.OptionSetWriter(t.err), progressbar.OptionClearOnFinish(),
			progressbar.OptionThrottle(100*time.Millisecond), progressbar.OptionSetWidth(20), progressbar.OptionSetElapsedTime(false),
			progressbar.OptionSetPredictTime(false))
	}
	t.bar.Describe(what)
	_ = t.bar.Set(done)
}

func (t *talk) clear() {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.wipe()
}

func (t *talk) wipe() {
	if t.bar != nil {
		_ = t.bar.Clear()
		t.bar = nil
	}
}

// level checks --fail-on.
func (t *talk) level() (finding.Severity, bool, error) {
	switch strings.ToLower(t.failOn) {
	case "error":
		return finding.Error, true, nil
	case "warning":
		return finding.Warning, true, nil
	case "never":
		return 0, false, nil
	}
	return 0, false, &usageError{fmt.Sprintf("--fail-on %q: error, warning or never", t.failOn)}
}

// failing says whether findings reach the fail level; answered ones do not.
func (t *talk) failing(list []finding.Finding) bool {
	level, on, _ := t.level()
	if !on {
		return false
	}
	for _, f := range list {
		if f.Severity >= level && f.Answer == nil {
			return true
		}
	}
	return false
}

// findings prints a file's findings and their totals.
func (t *talk) findings(file string, a *rules.Assessment) error {
	file = text.Line(file)
	if err := text.Findings(t.out, file, a.Findings, t.limit, t.colour()); err != nil {
		return err
	}
	if !t.quiet {
		fmt.Fprintf(t.out, "%s: %s\n", file, totals(a.Counts))
	}
	return nil
}

func totals(c check.Counts) string {
	s := fmt.Sprintf("%s, %s, %s", count(c.Errors, "error"), count(c.Warnings, "open warning"), count(c.Notes, "note"))
	if c.Answered > 0 {
		s += fmt.Sprintf(", %d answered", c.Answered)
	}
	return s
}

func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// internal reports a mistake of the program without showing its insides,
// unless asked.
func (t *talk) internal(what, stack string) {
	t.say("platebook: internal error: %s", what)
	t.say("    do: the input is unharmed. Please send this line, the version (%s), the command and, if you may, the workbook to the makers.", version)
	if t.verbose {
		t.say("%s", stack)
	}
}

// reviewed prints a review: what differs as findings, then its outcome, the
// changes between two revisions and the sample.
func (t *talk) reviewed(file string, own []finding.Finding, r *review.Review, lines [][2]string) error {
	file = text.Line(file)
	if err := text.Findings(t.out, file, own, t.limit, t.colour()); err != nil {
		return err
	}
	for _, f := range r.Answers {
		fmt.Fprintf(t.out, "%s: answer that does not count: %s: %s\n", file, f.Place(), text.Line(f.Message))
	}
	for _, key := range r.Since {
		fmt.Fprintf(t.out, "%s: answered since the results: %s\n", file, text.Line(key))
	}
	for _, l := range lines[1:] {
		fmt.Fprintf(t.out, "  %s: %s\n", l[0], text.Line(l[1]))
	}
	if r.Against != nil {
		for _, g := range r.Against.Groups {
			change := ""
			if g.Old != "" || g.New != "" {
				change = fmt.Sprintf(" (%s → %s)", orNone(g.Old), orNone(g.New))
			}
			if len(g.Changes) == 0 {
				fmt.Fprintf(t.out, "  changed %s%s: no changed input leads to it by formulas\n", text.Line(g.Result), text.Line(change))
				continue
			}
			fmt.Fprintf(t.out, "  changes %s%s:\n", text.Line(g.Result), text.Line(change))
			shown := g.Changes
			if t.limit > 0 && len(shown) > t.limit {
				shown = shown[:t.limit]
			}
			for _, n := range shown {
				c := r.Against.Changes[n]
				fmt.Fprintf(t.out, "    %s: %s: %s → %s\n", c.Place(), text.Line(c.What), text.Line(orNone(c.Old)), text.Line(orNone(c.New)))
			}
			if len(shown) < len(g.Changes) {
				fmt.Fprintf(t.out, "    first %d of %d\n", len(shown), len(g.Changes))
			}
		}
	}
	if t.quiet {
		return nil
	}
	for _, s := range r.Sample {
		fmt.Fprintf(t.out, "  check by hand: %s: %s: %s\n", s.Ref, text.Line(s.What), text.Line(s.Stored))
	}
	return nil
}
