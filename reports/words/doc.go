// Package words puts findings into a keeper's words and numbers, the same in every
// renderer.
//
// It writes plain text of one line. A minus before an estimate is the sign U+2212; a renderer for
// ASCII spells it. Names, notes and reasons are as recorded: a renderer escapes them.
package words
