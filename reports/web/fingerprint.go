package web

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"

	"panecore/layers"
)

// fingerprint tells a record from every other: a form carries that of what it shows, so
// that what another window changed in the meantime is not written over.
func fingerprint(tank layers.Tank) string {
	var document bytes.Buffer
	if err := layers.Encode(&document, []layers.Tank{tank}); err != nil {
		return "" // a record that no document holds: it can't have come from the store
	}
	sum := sha256.Sum256(document.Bytes())
	return hex.EncodeToString(sum[:16])
}
