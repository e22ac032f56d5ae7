// Package phone is the page on the pit's network: the slip typed on a phone, its verdict
// and the dial. It is the only package that opens a socket, and none of it calls out.
//
// # Decisions (November 2026)
//
// Everything works as plain forms; the script adds the keypad, what is kept on the phone
// while the laptop is out of reach, and what others record. A slip brings its id from the
// phone, so that sent twice it is recorded once, and its age by the phone's own clock, which
// need not be right: when it was run is the server's time less that.
//
// A question of the proofreader is a form with the whole slip in it, as it would be after
// the answer: the server remembers nothing of a slip that is not recorded.
//
// A cookie holds what a phone is known by; of it the server keeps the SHA-256 alone. The
// token in the forms is made from the cookie, so that a slip typed before a restart can be
// sent after it.
package phone
