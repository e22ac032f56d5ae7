// Package logbook keeps what the racer records, in CSV files that only ever
// grow, and answers the questions that only a log can: which setup was in
// force, what the air was at that minute.
package logbook
