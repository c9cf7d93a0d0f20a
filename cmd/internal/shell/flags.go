package shell

import (
	"errors"
	"fmt"
	"strconv"
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

// ParseNumber reads a number in digits: no NaN, no infinity.
func ParseNumber(s string) (float64, error) {
	number, err := strconv.ParseFloat(s, 64)
	if err != nil || strings.Trim(s, "+-.0123456789eE") != "" {
		return 0, fmt.Errorf("found %q, want a number such as 7.4", s)
	}
	return number, nil
}

// ParseShare reads a percentage. A bare number is refused: 1 may mean all or a hundredth.
func ParseShare(text string) (float64, error) {
	number, ok := strings.CutSuffix(strings.TrimSpace(text), "%")
	percent, err := ParseNumber(strings.TrimSpace(number))
	if !ok || err != nil {
		return 0, fmt.Errorf("found share %q, want a percentage, as in 25%%", text)
	}
	return percent / 100, nil
}

// ParseSize reads a length that something has: nothing is 0 mm long, and in a
// record 0 stands for "not told".
func ParseSize(text string) (mm float64, err error) {
	mm, err = layers.ParseLength(text)
	if err == nil && mm <= 0 {
		err = fmt.Errorf("found length %q, want more than 0", text)
	}
	return mm, err
}

// Texts are words as plain texts.
func Texts[Word ~string](words []Word) []string {
	list := make([]string, len(words))
	for i, word := range words {
		list[i] = string(word)
	}
	return list
}

// Join is words as one text.
func Join[Word ~string](words []Word, between string) string {
	return strings.Join(Texts(words), between)
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
