package notebook

import (
	"regexp"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/pattern"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/typed"
)

// names are the vehicles and tracks that the log knows.
type names struct {
	vehicles []crew.Vehicle
	tracks   []crew.Track
}

// nameOf is what a text comes to as a name: High Mesa is high-mesa.
func nameOf(text string) string {
	const longest = 40
	name := dashed(text)
	return strings.Trim(name[:min(len(name), longest)], "-")
}

// dashed is a text in small letters and digits, with dashes for all else.
func dashed(text string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(text) {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	return strings.Trim(b.String(), "-")
}

func (n *names) vehicle(text string) (id string, known bool) {
	for _, v := range n.vehicles {
		if nameOf(v.ID) == nameOf(text) || v.Title != "" && nameOf(v.Title) == nameOf(text) {
			return v.ID, true
		}
	}
	return "", false
}

func (n *names) track(text string) (id string, known bool) {
	for _, t := range n.tracks {
		if nameOf(t.ID) == nameOf(text) || t.Title != "" && nameOf(t.Title) == nameOf(text) {
			return t.ID, true
		}
	}
	return "", false
}

// within finds a name in a line of text, and the line without it.
func within(text string, all ...string) (found, rest string) {
	words := " " + strings.ReplaceAll(dashed(text), "-", " ") + " "
	for _, name := range all {
		if as := strings.ReplaceAll(nameOf(name), "-", " "); as != "" && strings.Contains(words, " "+as+" ") {
			loose := regexp.MustCompile(`(?i)\b` + strings.ReplaceAll(regexp.QuoteMeta(as), " ", `\W+`) + `\b`)
			return name, strings.Trim(loose.ReplaceAllString(text, ""), " ,;-–—:()|@")
		}
	}
	return "", text
}

var saidName = pattern.Of(
	`(?i)\b(track|strip|venue|location|car|vehicle|bike|motorcycle|meet|event|date)\s*[:=]\s*([^,;|]+)`,
)

// take takes what a line between runs says of those below; false where it says nothing of
// them.
func (h *heading) take(text string, row []Field, n *names) (took bool) {
	set := func(r Role, value string) {
		took = true
		switch r {
		case Track:
			h.track = value
		case Vehicle:
			h.vehicle = value
		case Date:
			h.date = value
		case "meet":
			h.meet = value
		}
	}
	for c := 0; c+1 < len(row); c++ { // a word and beside it what it is
		value := row[c+1].Text
		said := readLabel(strings.TrimRight(row[c].Text, ": ")).role
		if row[c].Text != "" && value != "" && value != row[c].Text && !row[c].Copy && len(value) <= 40 &&
			slices.Contains([]Role{Track, Vehicle, Date, "meet"}, said) {
			set(said, value)
		}
	}
	for _, m := range saidName.FindAllStringSubmatch(text, -1) {
		set(readLabel(m[1]).role, strings.TrimSpace(m[2]))
	}
	if took {
		return true
	}
	_, rest, dated := typed.ReadDay(text)
	if dated {
		set(Date, text)
		h.meet = ""
	}
	var vehicles, tracks []string
	for _, v := range n.vehicles {
		vehicles = append(vehicles, v.ID, v.Title)
	}
	for _, t := range n.tracks {
		tracks = append(tracks, t.Title, t.ID)
	}
	if found, less := within(rest, tracks...); found != "" {
		set(Track, found)
		rest = less
	}
	if found, less := within(rest, vehicles...); found != "" {
		set(Vehicle, found)
		rest = less
	}
	if took && rest != "" && len(rest) <= 60 {
		h.meet = rest
	}
	return took
}

// named is what the name of a sheet says of its runs: a track or a vehicle that the log knows.
func (g *Grid) named(n *names) (h heading) {
	if _, known := n.track(g.Name); known {
		h.track = g.Name
	} else if _, known := n.vehicle(g.Name); known {
		h.vehicle = g.Name
	}
	return h
}
