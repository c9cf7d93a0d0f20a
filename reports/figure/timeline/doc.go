// Package timeline draws a tank's record over time. It computes nothing that it shows.
package timeline
