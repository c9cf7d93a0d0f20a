package shell

import (
	"encoding/json"
	"io"
)

// WriteJSON writes a value as the program writes all JSON: two spaces a level,
// signs as they are, a newline at the end.
func WriteJSON(w io.Writer, value any) error { return newEncoder(w).Encode(value) }

func newEncoder(w io.Writer) *json.Encoder {
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	return encoder
}
