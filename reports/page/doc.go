// Package page writes HTML files to open in a browser or print: a tank's report, and the
// blank sheet for recording readings. It computes nothing that it shows.
//
// A page has no scripts and fetches nothing, so that it can be kept, mailed and opened
// anywhere. Texts from records are untrusted: html/template escapes them, and characters that
// could reorder a line are dropped from the whole page.
package page
