// Package reader is where a photo is read: it is sent, marked, read as often as the marks
// change, and filed as a core. Until then it is a draft, kept in memory alone.
package reader
