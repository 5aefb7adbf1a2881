package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/urfave/cli/v2"

	"platebook/rules"
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
		t.say("    do: see “platebook --help” or “platebook COMMAND --help”")
	case errors.Is(err, context.Canceled):
		t.say("platebook: interrupted; files finished so far are whole, nothing else was left behind")
	case err != nil && codeOf(err) == exitFile && !told(err):
		t.say("platebook: %s", err)
	}
	return codeOf(err)
}

func told(err error) bool {
	var file *fileError
	return errors.As(err, &file)
}

func newApp(t *talk) *cli.App {
	usage := func(_ *cli.Context, err error, _ bool) error { return &usageError{err.Error()} }
	commands := []*cli.Command{
		newCommand(t), demoCommand(t), checkCommand(t), runCommand(t), compareCommand(t), batchCommand(t), reviewCommand(t), importCommand(t), explainCommand(t), completionCommand(t),
	}
	for _, c := range commands {
		c.OnUsageError = usage
		c.HideHelpCommand = true
		c.Flags = append(c.Flags, globalFlags(t)...)
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
		OnUsageError:              usage,
		ExitErrHandler:            func(*cli.Context, error) {},
		Writer:                    t.out,
		ErrWriter:                 t.err,
		DisableSliceFlagSeparator: true,
		Action: func(c *cli.Context) error {
			if c.NArg() > 0 {
				return &usageError{fmt.Sprintf("no command %q", c.Args().First())}
			}
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
// and the run command before bare file names. "--" ends the options.
func arrange(app *cli.App, args []string) ([]string, error) {
	command, at := findCommand(app, args)
	if command == nil {
		if !anyFile(args) {
			return args, nil
		}
		command, at = app.Command("run"), -1
	}
	takesValue := map[string]bool{}
	for _, f := range command.Flags {
		_, isBool := f.(*cli.BoolFlag)
		for _, n := range f.Names() {
			takesValue[n] = !isBool
		}
	}
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
	out := append([]string{command.Name}, options...)
	if len(files) > 0 {
		out = append(append(out, "--"), files...)
	}
	return out, nil
}

// findCommand is the first word that is a command, standing before any file.
func findCommand(app *cli.App, args []string) (*cli.Command, int) {
	skip := false
	for i, a := range args {
		switch {
		case skip:
			skip = false
		case a == "--":
			return nil, 0
		case strings.HasPrefix(a, "-"):
			name := strings.TrimLeft(a, "-")
			skip = name == "limit" || name == "fail-on"
		default:
			return app.Command(a), i
		}
	}
	return nil, 0
}

func anyFile(args []string) bool {
	for _, a := range args {
		if a == "--" || !strings.HasPrefix(a, "-") {
			return true
		}
	}
	return false
}
