// Package predict says what a car or motorcycle should run, and what a run that
// was made says about it, from plain values: it knows no file and no log.
//
// Weight is in lb ready to run with driver or rider, power in hp at the clutch
// unless it says otherwise, time in s, speed in mph, distance in ft.
package predict
