package main

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"
)

func completionCommand(t *talk) *cli.Command {
	return &cli.Command{
		Name:      "completion",
		Usage:     "print a completion script for a shell",
		ArgsUsage: "bash|zsh|fish|powershell",
		Action: func(c *cli.Context) error {
			script := ""
			if c.NArg() == 1 {
				script = completion(c.App, c.Args().First())
			}
			if script == "" {
				return &usageError{"completion needs one of bash, zsh, fish, powershell"}
			}
			fmt.Fprint(t.out, script)
			return nil
		},
	}
}

// completion makes the script from the commands and options themselves, so
// that it cannot fall behind them.
func completion(app *cli.App, shell string) string {
	var names []string
	options := map[string][]string{}
	for _, c := range app.Commands {
		names = append(names, c.Name)
		for _, f := range c.Flags {
			options[c.Name] = append(options[c.Name], "--"+f.Names()[0])
		}
	}
	var b strings.Builder
	switch shell {
	case "bash":
		b.WriteString("_platebook() {\n  local cur=${COMP_WORDS[COMP_CWORD]} words\n  case ${COMP_WORDS[1]} in\n")
		for _, n := range names {
			fmt.Fprintf(&b, "    %s) words=%q ;;\n", n, strings.Join(options[n], " "))
		}
		fmt.Fprintf(&b, "    *) words=%q ;;\n  esac\n", strings.Join(names, " "))
		b.WriteString("  if [[ $COMP_CWORD -eq 1 || $cur == -* ]]; then\n    mapfile -t COMPREPLY < <(compgen -W \"$words\" -- \"$cur\")\n  fi\n}\n" +
			"complete -o default -F _platebook platebook\n")
	case "zsh":
		b.WriteString("#compdef platebook\nif (( CURRENT == 2 )); then\n")
		fmt.Fprintf(&b, "  compadd %s\n  _files -g '*.xls[xm]'\n  return\nfi\ncase $words[2] in\n", strings.Join(names, " "))
		for _, n := range names {
			fmt.Fprintf(&b, "  %s) compadd -- %s ;;\n", n, strings.Join(options[n], " "))
		}
		b.WriteString("esac\n_files\n")
	case "fish":
		for _, c := range app.Commands {
			fmt.Fprintf(&b, "complete -c platebook -n __fish_use_subcommand -a %s -d %s\n", c.Name, fishQuote(c.Usage))
			for _, o := range options[c.Name] {
				fmt.Fprintf(&b, "complete -c platebook -n '__fish_seen_subcommand_from %s' -l %s\n", c.Name, strings.TrimPrefix(o, "--"))
			}
		}
	case "powershell":
		b.WriteString("Register-ArgumentCompleter -Native -CommandName platebook -ScriptBlock {\n  param($word, $ast, $at)\n  $words = switch ($ast.CommandElements[1].Value) {\n")
		for _, n := range names {
			fmt.Fprintf(&b, "    '%s' { '%s' }\n", n, strings.Join(options[n], "','"))
		}
		fmt.Fprintf(&b, "    default { '%s' }\n  }\n", strings.Join(names, "','"))
		b.WriteString("  $words | Where-Object { $_ -like \"$word*\" }\n}\n")
	}
	return b.String()
}

func fishQuote(s string) string { return "'" + strings.ReplaceAll(s, "'", `\'`) + "'" }
