package records

import (
	"slices"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
)

// Seen is what the flags say of a core besides its key and its layers.
type Seen struct {
	lit, unlit bool
	signs      []layers.Sign
	note       string
	sure       bool
}

// noSigns is the word for seeing nothing besides the layers.
const noSigns = "none"

// AddSeenFlags adds the flags of what was seen.
func AddSeenFlags(cmd *cobra.Command, o *Seen) {
	flags := cmd.Flags()
	flags.BoolVar(&o.lit, "lit", false, "light reaches the glass there")
	flags.BoolVar(&o.unlit, "unlit", false, "no light reaches the glass there")
	flags.Func("sign", "`SIGN` seen as well: "+shell.Join(layers.Signs(), ", ")+", or "+noSigns+"; once for each", func(text string) (err error) {
		o.signs, err = addSign(o.signs, text)
		return err
	})
	flags.Func("note", "a `NOTE` in your own words", shell.Parsed(&o.note, layers.ParseNote))
	flags.BoolVar(&o.sure, "sure", false, "it is right as it stands: don't ask or warn again")
	shell.Complete(cmd, "sign", append(layers.Texts(layers.Signs()), noSigns)...)
}

// addSign adds a sign to those seen; the word for none takes all before it back.
func addSign(signs []layers.Sign, text string) ([]layers.Sign, error) {
	if text == noSigns {
		return nil, nil
	}
	sign, err := layers.ParseSign(text)
	if err != nil || slices.Contains(signs, sign) {
		return signs, err
	}
	return append(signs, sign), nil
}

// PutOn returns the core with what the flags say of it.
func (o *Seen) PutOn(cmd *cobra.Command, core layers.Core) (layers.Core, error) {
	given := cmd.Flags().Changed
	switch {
	case given("lit") && given("unlit"):
		return core, shell.BadUsage(cmd, "found both --lit and --unlit, want one of them")
	case given("lit"):
		core.Lit = &o.lit
	case given("unlit"):
		lit := !o.unlit
		core.Lit = &lit
	}
	if given("sign") {
		core.Signs = o.signs
	}
	if given("note") {
		core.Note = o.note
	}
	if given("sure") {
		core.Sure = o.sure
	}
	return core, nil
}
