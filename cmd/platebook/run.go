package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"regexp"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"platebook/rules"
	"platebook/rules/method"
)

// version is stamped by the release build.
var version = "dev"

// run is the whole program but for the process around it.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) (code int) {
	t := newTalk(stdout, stderr)
	defer func() {
		if p := recover(); p != nil {
			code = exitInternal
			t.internal(fmt.Sprint(p), stackOf(p))
		}
	}()
	app := newApp(t)
	help := "“platebook --help” or “platebook COMMAND --help”"
	if at := firstWord(app, args); at >= 0 && app.Command(args[at]) != nil {
		help = "“platebook " + app.Command(args[at]).Name + " --help”"
	}
	args, err := arrange(app, args)
	if err == nil {
		err = app.RunContext(ctx, append([]string{app.Name}, args...))
	}
	t.clear()
	if err == nil && ctx.Err() != nil {
		err = ctx.Err()
	}
	var usage *usageError
	switch {
	case errors.As(err, &usage):
		t.say("platebook: %s", usage.text)
		t.say("    do: see %s", help)
	case errors.Is(err, context.Canceled):
		t.say(interrupted)
	case err != nil && codeOf(err) == exitFile && !told(err):
		t.say("platebook: %s", err)
	}
	code = codeOf(err)
	if why := t.printed.err; why != nil && code != exitInternal && code != exitInterrupted {
		if p := (*fs.PathError)(nil); errors.As(why, &p) {
			why = p.Err
		}
		t.say("platebook: not all it says on the standard output could be written: %v", why)
		t.say("    do: Look where that output goes, run again; the input is unharmed.")
		code = exitFile
	}
	return code
}

func told(err error) bool {
	var file *fileError
	return errors.As(err, &file)
}

func newApp(t *talk) *cli.App {
	commands := []*cli.Command{
		newCommand(t), demoCommand(t), checkCommand(t), runCommand(t), compareCommand(t), batchCommand(t), reviewCommand(t), importCommand(t), explainCommand(t), completionCommand(t),
	}
	for _, c := range commands {
		c.Flags = append(c.Flags, globalFlags(t)...)
		c.OnUsageError = func(_ *cli.Context, err error, _ bool) error { return usageMistake(c.Flags, err) }
		c.HideHelpCommand = true
	}
	return &cli.App{
		Name:  "platebook",
		Usage: "tank floor inspections: workbook in, checked results and report out",
		UsageText: "platebook FILE…                 check, calculate and report (the same as run)\n" +
			"platebook COMMAND [options] [FILE…]",
		Version:                   version + " (rules " + rules.Version + ")",
		HideHelpCommand:           true,
		Commands:                  commands,
		Flags:                     globalFlags(t),
		OnUsageError:              func(_ *cli.Context, err error, _ bool) error { return usageMistake(globalFlags(t), err) },
		ExitErrHandler:            func(*cli.Context, error) {},
		Writer:                    t.out,
		ErrWriter:                 t.err,
		DisableSliceFlagSeparator: true,
		Action: func(c *cli.Context) error {
			return cli.ShowAppHelp(c)
		},
	}
}

// globalFlags are understood by every command, before or after its name.
func globalFlags(t *talk) []cli.Flag {
	return []cli.Flag{
		&cli.BoolFlag{Name: "json", Usage: "print one JSON document for each input", Destination: &t.json},
		&cli.BoolFlag{Name: "quiet", Usage: "print results only", Destination: &t.quiet},
		&cli.BoolFlag{Name: "verbose", Usage: "tell each stage and its time", Destination: &t.verbose},
		&cli.IntFlag{Name: "limit", Usage: "show at most `N` findings, 0 for all", Value: 50, Destination: &t.limit},
		&cli.StringFlag{Name: "fail-on", Usage: "exit with 1 from this severity on: error, warning or never", Value: "error", Destination: &t.failOn},
		&cli.BoolFlag{Name: "no-color", Usage: "no colour on a terminal", Destination: &t.noColour},
	}
}

// arrange puts options before file names, where the flag package wants them,
// and the run command before bare file names. "--" ends the options. "help"
// is taken for --help; a first word that is neither a command nor a file is a
// mistake, and nothing after it is run.
func arrange(app *cli.App, args []string) ([]string, error) {
	at := firstWord(app, args)
	var command *cli.Command
	if at >= 0 {
		command = app.Command(args[at])
	}
	switch {
	case command != nil:
	case at >= 0 && args[at] == "help":
		return arrange(app, append(slices.Delete(slices.Clone(args), at, at+1), "--help"))
	case at >= 0 && bareWord(args[at]):
		return nil, unknownCommand(app, args[at])
	case at < 0 && !slices.Contains(args, "--"):
		return args, nil
	default:
		command, at = app.Command("run"), -1
	}
	takesValue := valueOptions(command)
	var options, files []string
	for i := 0; i < len(args); i++ {
		a := args[i]
		switch {
		case i == at:
		case a == "--":
			files = append(files, args[i+1:]...)
			i = len(args)
		case len(a) > 1 && a[0] == '-':
			options = append(options, a)
			name := strings.TrimLeft(a, "-")
			if takesValue[name] {
				if i+1 == len(args) {
					return nil, &usageError{fmt.Sprintf("option --%s needs a value", name)}
				}
				i++
				options = append(options, args[i])
			}
		default:
			files = append(files, a)
		}
	}
	for _, o := range options {
		switch o {
		case "--help", "-help", "-h":
			return []string{command.Name, "--help"}, nil // whatever stands beside it
		case "--version", "-version":
			return []string{"--version"}, nil
		}
	}
	for _, f := range files {
		switch f {
		case "":
			return nil, &usageError{"a file name is empty"}
		case "-":
			return nil, &usageError{command.Name + " reads files by their names, not what is piped into it"}
		}
	}
	out := append([]string{command.Name}, options...)
	if len(files) > 0 {
		out = append(append(out, "--"), files...)
	}
	return out, nil
}

// valueOptions are the options of some commands that are followed by a value.
func valueOptions(commands ...*cli.Command) map[string]bool {
	takes := map[string]bool{}
	for _, c := range commands {
		for _, f := range c.Flags {
			_, isBool := f.(*cli.BoolFlag)
			for _, n := range f.Names() {
				takes[n] = !isBool
			}
		}
	}
	return takes
}

// firstWord is the place of the first word that is no option and no option's
// value, -1 for none before "--".
func firstWord(app *cli.App, args []string) int {
	takesValue := valueOptions(app.Commands...)
	for i := 0; i < len(args) && args[i] != "--"; i++ {
		switch {
		case len(args[i]) < 2 || args[i][0] != '-':
			return i
		case takesValue[strings.TrimLeft(args[i], "-")]:
			i++
		}
	}
	return -1
}

// bareWord says that a word can be meant for a command only: it has no folder
// and no ending, and no file is called so.
func bareWord(word string) bool {
	if strings.ContainsAny(word, `./\`) {
		return false
	}
	_, err := os.Lstat(word)
	return errors.Is(err, fs.ErrNotExist)
}

func unknownCommand(app *cli.App, word string) error {
	var names []string
	for _, c := range app.Commands {
		names = append(names, c.Name)
	}
	text := fmt.Sprintf("%q is no command, and no file of that name is here", word)
	if near := method.Near(word, names); len(near) > 0 {
		text += "; near is " + near[0]
	}
	return &usageError{text}
}

var (
	wrongValue    = regexp.MustCompile(`^invalid (?:boolean )?value ("(?s:.*)") for (?:flag )?-(\S+): `)
	unknownOption = regexp.MustCompile(`^flag provided but not defined: -(.*)$`)
)

// usageMistake says in the program's words what the flag package found wrong.
func usageMistake(flags []cli.Flag, err error) error {
	text := err.Error()
	if m := wrongValue.FindStringSubmatch(text); m != nil {
		want := "is on or off and takes no value"
		if valueOptions(&cli.Command{Flags: flags})[m[2]] {
			want = "takes a whole number"
		}
		return &usageError{fmt.Sprintf("--%s %s: the option %s", m[2], m[1], want)}
	}
	if m := unknownOption.FindStringSubmatch(text); m != nil {
		var names []string
		for _, f := range flags {
			names = append(names, f.Names()[0])
		}
		text = "unknown option -" + m[1]
		if len(m[1]) > 1 {
			text = "unknown option --" + m[1]
		}
		if near := method.Near(m[1], names); len(near) > 0 {
			text += "; near is --" + near[0]
		}
	}
	return &usageError{text}
}
