package main

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"platebook/workbook"
)

var completions = map[string]func([]completed) string{
	"bash": bashCompletion, "zsh": zshCompletion, "fish": fishCompletion, "powershell": powershellCompletion,
}

var shells = []string{"bash", "zsh", "fish", "powershell"}

func completionCommand(t *talk) *cli.Command {
	return &cli.Command{
		Name:      "completion",
		Usage:     "print a completion script for a shell",
		ArgsUsage: "bash|zsh|fish|powershell",
		Action: func(c *cli.Context) error {
			if c.NArg() == 1 {
				if script := completions[strings.ToLower(c.Args().First())]; script != nil {
					fmt.Fprint(t.out, script(completedOf(c.App)))
					return nil
				}
			}
			return &usageError{"completion needs one of " + strings.Join(shells, ", ")}
		},
	}
}

// completed is a command as a shell offers it; the one without a name is what
// may stand before any.
type completed struct {
	name, usage string
	words       []string // instead of files
	options     []completedOption
}

type completedOption struct {
	name, usage string
	takes       value
	words       []string
}

// value is what follows an option.
type value int

const (
	nothing value = iota
	anything
	aWord // one of its words
	aFile
	aFolder
)

// completedOf makes the list from the commands and options themselves, so that
// it cannot fall behind them.
func completedOf(app *cli.App) []completed {
	words := map[string][]string{
		"units": {"si", "us"}, "only": outputKinds, "fail-on": {"error", "warning", "never"},
		"decimal": {"comma", "point"}, "sheet": workbook.RowSheets(),
	}
	files := map[string]value{"against": aFile, "earlier": aFile, "map": aFile, "into": aFile, "out": aFolder}
	options := func(flags []cli.Flag) (list []completedOption) {
		for _, f := range flags {
			name := f.Names()[0]
			if name == "help" {
				continue
			}
			o := completedOption{name: name, words: words[name], takes: anything}
			if d, ok := f.(cli.DocGenerationFlag); ok {
				o.usage = strings.ReplaceAll(d.GetUsage(), "`", "")
				if !d.TakesValue() {
					o.takes = nothing
				}
			}
			if len(o.words) > 0 {
				o.takes = aWord
			}
			if kind, ok := files[name]; ok {
				o.takes = kind
			}
			list = append(list, o)
		}
		return append(list, completedOption{name: "help", usage: "tell what it does and its options"})
	}
	all := []completed{{options: append(options(globalFlags(newTalk(nil, nil))), completedOption{name: "version", usage: "tell the version"})}}
	for _, c := range app.Commands {
		d := completed{name: c.Name, usage: c.Usage, options: options(c.Flags)}
		if c.Name == "completion" {
			d.words = shells
		}
		all = append(all, d)
	}
	return all
}

func commandNames(all []completed) (names []string) {
	for _, c := range all[1:] {
		names = append(names, c.name)
	}
	return names
}

// valued are the options with a value, each once.
func valued(all []completed) (list []completedOption) {
	seen := map[string]bool{}
	for _, c := range all {
		for _, o := range c.options {
			if o.takes != nothing && !seen[o.name] {
				seen[o.name] = true
				list = append(list, o)
			}
		}
	}
	return list
}

func (c completed) optionNames() (names []string) {
	for _, o := range c.options {
		names = append(names, "--"+o.name)
	}
	return names
}

// bashCompletion also runs in the bash 3.2 of macOS.
func bashCompletion(all []completed) string {
	var b strings.Builder
	names := commandNames(all)
	b.WriteString("_platebook() {\n  local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]} cmd= words= w i IFS=$'\\n'\n" +
		"  [[ $cur == = ]] && cur=\n  [[ $prev == = ]] && prev=${COMP_WORDS[COMP_CWORD-2]}\n" +
		"  for ((i = 1; i < COMP_CWORD; i++)); do\n    case ${COMP_WORDS[i]} in\n")
	fmt.Fprintf(&b, "      %s) cmd=${COMP_WORDS[i]}; break ;;\n    esac\n  done\n  COMPREPLY=()\n  case $prev in\n", strings.Join(names, "|"))
	for _, o := range valued(all) {
		switch o.takes {
		case aWord:
			fmt.Fprintf(&b, "    --%s) words=%s ;;\n", o.name, bashLines(o.words))
		case aFolder:
			fmt.Fprintf(&b, "    --%s) COMPREPLY=($(compgen -d -- \"$cur\")); compopt -o filenames 2>/dev/null; return ;;\n", o.name)
		default:
			fmt.Fprintf(&b, "    --%s) return ;;\n", o.name)
		}
	}
	b.WriteString("  esac\n  if [[ -z $words ]]; then\n    case $cmd$cur in\n")
	fmt.Fprintf(&b, "      -*) words=%s ;;\n      %s*) [[ -n $cmd ]] && words=%s ;;\n", bashLines(all[0].optionNames()), "completion", bashLines(shells))
	b.WriteString("    esac\n    if [[ -n $cmd && $cur == -* ]]; then\n      case $cmd in\n")
	for _, c := range all[1:] {
		fmt.Fprintf(&b, "        %s) words=%s ;;\n", c.name, bashLines(c.optionNames()))
	}
	fmt.Fprintf(&b, "      esac\n    elif [[ -z $cmd && $cur != -* ]]; then\n      words=%s\n    fi\n  fi\n", bashLines(names))
	b.WriteString("  for w in $(compgen -W \"$words\" -- \"$cur\"); do COMPREPLY+=(\"$(printf %q \"$w\")\"); done\n}\n" +
		"complete -o default -F _platebook platebook\n")
	return b.String()
}

func bashLines(words []string) string {
	return "$'" + strings.ReplaceAll(strings.Join(words, "\n"), "\n", `\n`) + "'"
}

// zshCompletion works from a folder of the function path and when it is read
// into a shell.
func zshCompletion(all []completed) string {
	var b strings.Builder
	b.WriteString("#compdef platebook\n_platebook() {\n  local cmd= w\n  local -a list\n  for w in ${words[2,CURRENT-1]}; do\n    case $w in\n")
	fmt.Fprintf(&b, "      %s) cmd=$w; break ;;\n    esac\n  done\n  case ${words[CURRENT-1]} in\n", strings.Join(commandNames(all), "|"))
	for _, o := range valued(all) {
		switch o.takes {
		case aWord:
			fmt.Fprintf(&b, "    --%s) compadd -- %s; return ;;\n", o.name, quotedWords(o.words))
		case aFolder:
			fmt.Fprintf(&b, "    --%s) _files -/; return ;;\n", o.name)
		case aFile:
			fmt.Fprintf(&b, "    --%s) _files; return ;;\n", o.name)
		default:
			fmt.Fprintf(&b, "    --%s) return ;;\n", o.name)
		}
	}
	b.WriteString("  esac\n  if [[ ${words[CURRENT]} == -* ]]; then\n    case $cmd in\n")
	for _, c := range all {
		fmt.Fprintf(&b, "      %s) list=(", quoted(c.name))
		for _, o := range c.options {
			fmt.Fprintf(&b, "\n        %s", quoted("--"+o.name+":"+o.usage))
		}
		b.WriteString("\n      ) ;;\n")
	}
	b.WriteString("    esac\n    _describe -o option list\n    return\n  fi\n  case $cmd in\n    '')\n      list=(")
	for _, c := range all[1:] {
		fmt.Fprintf(&b, "\n        %s", quoted(c.name+":"+c.usage))
	}
	fmt.Fprintf(&b, "\n      )\n      _describe command list\n      _files -g '*.xls[xm]' ;;\n    completion) compadd %s ;;\n    *) _files ;;\n  esac\n}\n", strings.Join(shells, " "))
	b.WriteString("if [[ ${funcstack[1]} == _platebook ]]; then\n  _platebook \"$@\"\nelse\n  compdef _platebook platebook\nfi\n")
	return b.String()
}

func fishCompletion(all []completed) string {
	var b strings.Builder
	for _, c := range all {
		when := "__fish_seen_subcommand_from " + c.name
		if c.name == "" {
			when = "not __fish_seen_subcommand_from " + strings.Join(commandNames(all), " ")
		} else {
			fmt.Fprintf(&b, "complete -c platebook -n __fish_use_subcommand -a %s -d %s\n", c.name, quoted(c.usage))
		}
		if len(c.words) > 0 {
			fmt.Fprintf(&b, "complete -c platebook -n %s -f -a %s\n", quoted(when), quoted(strings.Join(c.words, " ")))
		}
		for _, o := range c.options {
			fmt.Fprintf(&b, "complete -c platebook -n %s -l %s%s -d %s\n", quoted(when), o.name, fishValue(o), quoted(o.usage))
		}
	}
	return b.String()
}

func fishValue(o completedOption) string {
	switch o.takes {
	case nothing:
		return ""
	case aWord:
		return " -x -a " + quoted(quotedWords(o.words))
	case aFile:
		return " -r -F"
	case aFolder:
		return " -x -a '(__fish_complete_directories)'"
	}
	return " -x"
}

func powershellCompletion(all []completed) string {
	var b strings.Builder
	b.WriteString("Register-ArgumentCompleter -Native -CommandName platebook -ScriptBlock {\n  param($word, $ast, $at)\n  $words = switch ($ast.CommandElements[1].Value) {\n")
	for _, c := range all[1:] {
		fmt.Fprintf(&b, "    '%s' { '%s' }\n", c.name, strings.Join(append(c.optionNames(), c.words...), "','"))
	}
	fmt.Fprintf(&b, "    default { '%s' }\n  }\n", strings.Join(commandNames(all), "','"))
	b.WriteString("  $words | Where-Object { $_ -like \"$word*\" }\n}\n")
	return b.String()
}

// quoted is a text as zsh and fish take it literally.
func quoted(s string) string {
	return "'" + strings.NewReplacer(`'`, `'\''`).Replace(s) + "'"
}

// quotedWords are words that hold blanks at most, divided by blanks.
func quotedWords(words []string) string {
	list := make([]string, len(words))
	for i, w := range words {
		list[i] = w
		if strings.Contains(w, " ") {
			list[i] = `"` + w + `"`
		}
	}
	return strings.Join(list, " ")
}
