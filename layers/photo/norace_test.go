//go:build !race

package photo_test

// racing reports that the race detector watches, which takes ten times as long.
const racing = false
