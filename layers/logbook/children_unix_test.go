//go:build unix

package logbook

var children = map[string]child{"write": writeOn, "add": addMany, "open": openOnly, "file": fileMany, "full": importFull, "full photo": fileFull, "denied": openDenied}
