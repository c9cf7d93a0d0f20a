package shell

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"panecore/layers"
)

// RequireFlags asks for flags that have no default.
func RequireFlags(cmd *cobra.Command, names ...string) error {
	var missing []string
	for _, name := range names {
		if !cmd.Flags().Changed(name) {
			missing = append(missing, "--"+name)
		}
	}
	switch {
	case len(missing) == 0:
		return nil
	case len(names) == 1:
		return BadUsage(cmd, "found no %s, want it", missing[0])
	}
	return BadUsage(cmd, "found no %s, want all of --%s", strings.Join(missing, ", "), strings.Join(names, ", --"))
}

// FieldFlags adds a flag for each of the fields that has one, which puts what is typed into r.
// otherwise says what a field is that must be given and is not; empty: nothing.
func FieldFlags[R any](cmd *cobra.Command, r *R, fields []layers.Field[R], otherwise string) {
	flags := cmd.Flags()
	flags.SortFlags = false
	for _, f := range fields {
		if f.Flag == "" {
			continue
		}
		usage := f.Usage
		if f.Needed && otherwise != "" {
			usage += " (default " + otherwise + ")"
		}
		flags.Func(f.Flag, usage, func(text string) error { return f.Parse(r, text) })
	}
}

// FlagsOf names the flags of fields that need not be given, as in "--share, --depth or --note".
func FlagsOf[R any](fields []layers.Field[R]) string {
	var flags []string
	for _, f := range fields {
		if f.Flag != "" && !f.Needed {
			flags = append(flags, "--"+f.Flag)
		}
	}
	return layers.OneOf(flags)
}

// Join is words as one text.
func Join[Word ~string](words []Word, between string) string {
	return strings.Join(layers.Texts(words), between)
}

// Complete lists a flag's values for the shell's completion.
func Complete(cmd *cobra.Command, flag string, values ...string) {
	CompleteBy(cmd, flag, cobra.FixedCompletions(values, cobra.ShellCompDirectiveNoFileComp))
}

// CompleteBy has a function complete a flag's value.
func CompleteBy(cmd *cobra.Command, flag string, values cobra.CompletionFunc) {
	if err := cmd.RegisterFlagCompletionFunc(flag, values); err != nil {
		panic(err) // the flag was not added
	}
}

// Parsed is a flag that one of the parsers reads into a value.
func Parsed[T any](into *T, parse func(string) (T, error)) func(string) error {
	return func(text string) error {
		value, err := parse(text)
		if err != nil {
			return err
		}
		*into = value
		return nil
	}
}

// OneOf takes one of a few words.
func OneOf[Word ~string](words ...Word) func(string) (Word, error) {
	return func(text string) (Word, error) {
		if word := Word(text); slices.Contains(words, word) {
			return word, nil
		}
		last := len(words) - 1
		return "", fmt.Errorf("found %q, want %s or %s", text, Join(words[:last], ", "), words[last])
	}
}

// AddWordFlag adds a flag that takes one of a few words, and has them completed.
func AddWordFlag[Word ~string](cmd *cobra.Command, into *Word, name, usage string, words ...Word) {
	cmd.Flags().Func(name, usage, Parsed(into, OneOf(words...)))
	Complete(cmd, name, layers.Texts(words)...)
}

// ParseGiven takes a text as it stands; an empty one, as of a variable of the shell's that is
// not set, is not the same as none.
func ParseGiven(text string) (string, error) {
	if text == "" {
		return "", errors.New("found an empty text, want one, or not the flag")
	}
	return text, nil
}

// ParseFileName takes the name of a file, where standard output won't do.
func ParseFileName(text string) (string, error) {
	if text == "" || text == "-" {
		return "", fmt.Errorf("found %q, want the name of a file", text)
	}
	return text, nil
}
