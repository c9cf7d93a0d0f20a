package cli

import (
	"encoding/json"
	"io"
)

// writeJSON writes a value as the program writes all JSON: two spaces a level,
// signs as they are, a newline at the end.
func writeJSON(w io.Writer, value any) error { return newEncoder(w).Encode(value) }

func newEncoder(w io.Writer) *json.Encoder {
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	return encoder
}
