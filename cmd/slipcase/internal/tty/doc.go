// Package tty is the racer's terminal: one reader for lines, single keys and pasted
// text, the room in its window, signals, and how far a long job is.
//
// Questions are plain lines, without a terminal library: they work over ssh, in tmux, on
// a dumb terminal and in twenty columns. Only the question about a figure that looks
// wrong reads a single key, and forgets keys typed before it.
package tty
