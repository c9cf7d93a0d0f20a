// Package page writes what is printed or opened in a browser: a tank's report, and the
// sheet that readings are written on. It computes nothing: numbers and pictures come
// from others.
//
// A page is one HTML file without scripts that fetches nothing, so that it can be kept,
// mailed and opened anywhere. Texts of records are untrusted: html/template escapes them
// where they stand, and what could reorder a line is dropped from the whole page.
package page
