// Package page puts facts into words: each kind of fact in one place, in the units
// shown.
package page
