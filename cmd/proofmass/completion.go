package main

import (
	"context"
	"fmt"
	"io"
	"maps"
	"regexp"
	"slices"
	"strings"

	"proofmass/jobs/begin"
	"proofmass/jobs/reference"
	tables "proofmass/jobs/result"
)

// shells are those for which there is completion.
var shells = map[string]func([]completed) string{"bash": bashScript, "zsh": zshScript, "fish": fishScript}

// completion prints what a shell completes the command line by.
func completion(_ context.Context, args []string, out, _ io.Writer) error {
	f := flags("completion")
	known := slices.Sorted(maps.Keys(shells))
	if err := parse(f, args, 1, 1, strings.Join(known, ", ")); err != nil {
		return err
	}
	script := shells[f.Arg(0)]
	if script == nil {
		return usagef("completion: found %q; there are %s%s", f.Arg(0), strings.Join(known, ", "), reference.Suggest(f.Arg(0), known))
	}
	_, err := io.WriteString(out, script(allCompleted()))
	return err
}

// completed is what is known of one command: its arguments and its options.
type completed struct {
	verb, meaning string
	args          candidates
	options       []option
}

// An option as its help tells it, with what may stand behind it.
type option struct {
	name, meaning string
	takes         bool
	value         candidates
}

// candidates are what may stand in a place: words, study files or folders.
type candidates struct {
	words   []string
	studies bool
	folders bool
}

// optionLine is how a help text tells an option: --name, what it takes, what it does.
var optionLine = regexp.MustCompile(`(?m)^  --([a-z-]+)( [A-Z]+| [a-z]+,[a-z]+)?(?:  +([^\n]+))?$`)

// usageArgs are the words in the first line of a help text that stand for arguments.
var usageArgs = regexp.MustCompile(`^proofmass \S+ (?:\[)?([A-Za-z|]+)`)

// allCompleted reads the help texts, which tests hold to what the commands take.
func allCompleted() []completed {
	var all []completed
	for _, verb := range append(slices.Sorted(maps.Keys(verbs)), "help") {
		c := completed{verb: verb, meaning: meaningOf(verb)}
		if m := usageArgs.FindStringSubmatch(helpOf[verb]); m != nil {
			c.args = argument(m[1])
		}
		if verb == "help" {
			c.args.words = append(slices.Sorted(maps.Keys(verbs)), "study", "json")
		}
		for _, m := range optionLine.FindAllStringSubmatch(helpOf[verb], -1) {
			c.options = append(c.options, option{m[1], m[3], m[2] != "", argument(strings.TrimSpace(m[2]))})
		}
		all = append(all, c)
	}
	return all
}

// meaningOf is the line of the overview that tells a command.
func meaningOf(verb string) string {
	m := regexp.MustCompile(`(?m)^  proofmass ` + verb + `( .*?)?(?:  +(\S.*))?$`).FindStringSubmatch(help)
	if m == nil {
		return ""
	}
	return m[2]
}

// argument says what may stand for a word of a usage line.
func argument(word string) candidates {
	switch word {
	case "STUDY":
		return candidates{studies: true}
	case "DIR", "FOLDER", "OLD", "NEW":
		return candidates{folders: true}
	case "WHAT":
		return candidates{words: reference.Kinds()}
	case "TABLE":
		words := []string{"samples"}
		for _, t := range tables.Describe() {
			words = append(words, strings.TrimSuffix(t.File, ".parquet"))
		}
		return candidates{words: words}
	case "rumour|teardown|swap":
		var words []string
		for _, k := range begin.Kinds() {
			words = append(words, k.Name)
		}
		return candidates{words: words}
	}
	if strings.ContainsAny(word, "|,") {
		return candidates{words: strings.FieldsFunc(word, func(r rune) bool { return r == '|' || r == ',' })}
	}
	return candidates{}
}

func verbNames(all []completed) string {
	var names []string
	for _, c := range all {
		names = append(names, c.verb)
	}
	return strings.Join(names, " ")
}

// bashScript completes by a function that knows the commands and their options.
func bashScript(all []completed) string {
	var b strings.Builder
	b.WriteString(`# bash completion of proofmass; load it with: source <(proofmass completion bash)
_proofmass_words() { COMPREPLY=($(compgen -W "$1" -- "$cur")); }
_proofmass_folders() { compopt -o filenames 2>/dev/null; mapfile -t COMPREPLY < <(compgen -d -- "$cur"); }
_proofmass_studies() {
  local f
  compopt -o filenames 2>/dev/null
  mapfile -t COMPREPLY < <(compgen -d -- "$cur"; compgen -f -- "$cur" | while IFS= read -r f; do
    case $f in *.yaml|*.yml) [ -d "$f" ] || printf '%s\n' "$f";; esac
  done)
}
_proofmass() {
  local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]} verb= i
  COMPREPLY=()
  if [ "$prev" = "=" ]; then prev=${COMP_WORDS[COMP_CWORD-2]}; fi
  if [ "$cur" = "=" ]; then cur=; fi
  for ((i = 1; i < COMP_CWORD; i++)); do
    case ${COMP_WORDS[i]} in -*) ;; *) verb=${COMP_WORDS[i]}; break;; esac
  done
`)
	fmt.Fprintf(&b, "  if [ -z \"$verb\" ]; then _proofmass_words \"%s\"; return; fi\n", verbNames(all))
	b.WriteString("  case \"$verb $prev\" in\n")
	for _, c := range all {
		for _, o := range c.options {
			if o.takes {
				fmt.Fprintf(&b, "    \"%s --%s\") %s return;;\n", c.verb, o.name, o.value.bash())
			}
		}
	}
	b.WriteString("  esac\n  case $verb in\n")
	for _, c := range all {
		var options []string
		for _, o := range c.options {
			options = append(options, "--"+o.name)
		}
		fmt.Fprintf(&b, "    %s) case $cur in -*) _proofmass_words \"%s\";; *) %s;; esac;;\n", c.verb, strings.Join(append(options, "--help"), " "), strings.TrimSuffix(c.args.bash(), ";"))
	}
	b.WriteString("  esac\n}\ncomplete -F _proofmass proofmass\n")
	return b.String()
}

func (c candidates) bash() string {
	switch {
	case c.studies:
		return "_proofmass_studies;"
	case c.folders:
		return "_proofmass_folders;"
	case len(c.words) > 0:
		return "_proofmass_words \"" + strings.Join(c.words, " ") + "\";"
	}
	return ":;"
}

// zshScript completes by zsh's own _arguments.
func zshScript(all []completed) string {
	var b strings.Builder
	b.WriteString(`#compdef proofmass
# zsh completion of proofmass; put it as _proofmass into a folder of $fpath, or load it with:
# source <(proofmass completion zsh)
_proofmass() {
  local -a verbs
  verbs=(
`)
	for _, c := range all {
		fmt.Fprintf(&b, "    '%s:%s'\n", c.verb, zshText(c.meaning))
	}
	b.WriteString("  )\n  if (( CURRENT == 2 )); then\n    _describe 'command' verbs\n    return\n  fi\n  local verb=$words[2]\n  shift words\n  (( CURRENT-- ))\n  case $verb in\n")
	for _, c := range all {
		fmt.Fprintf(&b, "    %s) _arguments", c.verb)
		for _, o := range c.options {
			value := ""
			if o.takes {
				value = ":value:" + o.value.zsh()
			}
			fmt.Fprintf(&b, " \\\n      '*--%s[%s]%s'", o.name, zshText(o.meaning), value)
		}
		fmt.Fprintf(&b, " \\\n      '*:argument:%s';;\n", c.args.zsh())
	}
	b.WriteString("  esac\n}\nif [[ $zsh_eval_context[-1] == loadautofunc ]]; then _proofmass \"$@\"; else compdef _proofmass proofmass; fi\n")
	return b.String()
}

func (c candidates) zsh() string {
	switch {
	case c.studies:
		return `_files -g "*.(yaml|yml)"`
	case c.folders:
		return "_files -/"
	case len(c.words) > 0:
		return "(" + strings.Join(c.words, " ") + ")"
	}
	return " "
}

func zshText(text string) string {
	return strings.NewReplacer("'", "'\\''", "[", "(", "]", ")", ":", ",").Replace(text)
}

// fishScript completes by a line a command and option.
func fishScript(all []completed) string {
	var b strings.Builder
	b.WriteString("# fish completion of proofmass; load it with: proofmass completion fish | source\ncomplete -c proofmass -f\n")
	for _, c := range all {
		fmt.Fprintf(&b, "complete -c proofmass -n __fish_use_subcommand -a %s -d '%s'\n", c.verb, fishText(c.meaning))
	}
	for _, c := range all {
		on := fmt.Sprintf("complete -c proofmass -n '__fish_seen_subcommand_from %s'", c.verb)
		if c.verb != "help" { // behind which other commands stand
			on = fmt.Sprintf("complete -c proofmass -n '__fish_seen_subcommand_from %s; and not __fish_seen_subcommand_from help'", c.verb)
		}
		if from := c.args.fish(); from != "" {
			fmt.Fprintf(&b, "%s %s\n", on, from)
		}
		for _, o := range c.options {
			value := ""
			if o.takes {
				value = " -x " + o.value.fish()
			}
			fmt.Fprintf(&b, "%s -l %s%s -d '%s'\n", on, o.name, strings.TrimRight(value, " "), fishText(o.meaning))
		}
	}
	return b.String()
}

func (c candidates) fish() string {
	switch {
	case c.studies:
		return "-a '(__fish_complete_suffix .yaml .yml)'"
	case c.folders:
		return "-a '(__fish_complete_directories)'"
	case len(c.words) > 0:
		return "-a '" + strings.Join(c.words, " ") + "'"
	}
	return ""
}

func fishText(text string) string { return strings.ReplaceAll(text, "'", "\\'") }
