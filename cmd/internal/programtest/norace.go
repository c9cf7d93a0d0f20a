//go:build !race

package programtest

// Racing reports that the race detector watches, which takes ten times as long.
const Racing = false
