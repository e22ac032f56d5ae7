// Package weather turns what instruments at a track say (a Reading) into the
// state of the air there (an Air), and everything a racer asks about air follows
// from that state: density, density altitude, water, power correction, and the
// air at a minute when nobody read an instrument.
//
// Density altitude of standard air by CIPM-2007 is -15 ft, not 0: ISO 2533 rounds its
// density to 1.225 from another gas constant. The published check values take ISO's.
package weather
