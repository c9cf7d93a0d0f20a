// Package timeline draws a tank's record along time. It computes nothing of what it shows.
package timeline
