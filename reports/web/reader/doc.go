// Package reader is where a photo is read: it is sent, marked, read again whenever a mark changes,
// and saved as a core. Until then it is a draft, which only memory holds.
package reader
