// Package weather turns what instruments at a track say (a Reading) into the
// state of the air there (an Air), and everything a racer asks about air follows
// from that state: density, density altitude, water, power correction, and the
// air at a minute when nobody read an instrument.
package weather
