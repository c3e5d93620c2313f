package mrz

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"unspool/say"
)

// name writes the holder's name: surname, two fillers, given names, each with a
// filler between its parts (Doc 9303-3 4.6). A name without a surname or without
// given names stands alone.
func (w *writer) name(surname, given string) {
	primary, err := parts(surname)
	if err != nil {
		w.fail(err)
		return
	}
	secondary, err := parts(given)
	if err != nil {
		w.fail(err)
		return
	}
	if len(primary) == 0 {
		primary, secondary = secondary, nil
	}
	if len(primary) == 0 {
		w.fail(say.Errorf("there is no name; write the surname"))
		return
	}
	at := w.at(w.l.holder.span)
	copy(at, fit(primary, secondary, len(at)))
}

// maxName bounds a name; what is beyond it is never seen.
const maxName = 1000

// parts writes a name in the letters of a zone, part by part. Spaces, hyphens and
// commas part it; apostrophes and other marks go; a digit, and a letter that has
// no place in the table of letters, is an error (Doc 9303-3 4.6 and 6 A).
func parts(s string) ([]string, error) {
	var b strings.Builder
	for _, r := range norm.NFC.String(s[:min(len(s), maxName)]) {
		up := unicode.ToUpper(r)
		switch {
		case up >= 'A' && up <= 'Z':
			b.WriteRune(up)
		case latin[up] != "":
			b.WriteString(latin[up])
		case unicode.IsSpace(r) || unicode.Is(unicode.Pd, r) || r == ',' || r == '<':
			b.WriteByte(' ')
		case r == '?':
			return nil, say.Errorf("the name %q holds a question mark, as letters lost in saving leave; save the roster anew", s)
		case unicode.IsNumber(r):
			return nil, say.Errorf("the name %q holds the digit %q, and names have none in the zone; write it in letters", s, r)
		case unicode.IsPunct(r) || unicode.Is(unicode.Sk, r) || unicode.Is(unicode.Lm, r) || unicode.Is(unicode.Cf, r):
		default:
			return nil, say.Errorf("the name %q holds %q, for which there is no rule in ICAO Doc 9303-3 6 A; write it in Latin letters, in a column of its own", s, r)
		}
	}
	return strings.Fields(b.String()), nil
}

// joined is a name as it stands in a zone: parts, of which so many are the
// surname's.
func joined(parts []string, surname int) string {
	s := strings.Join(parts[:surname], "<")
	if surname < len(parts) {
		s += "<<" + strings.Join(parts[surname:], "<")
	}
	return s
}

// fit is a name in at most room characters. A name that is too long is shortened
// by one of the ways that Doc 9303-5 4.2.3 leaves open: the surname's last parts
// first, until the first letter of the given names finds room, then the given
// names from their end. The last character is then a letter, which says that
// something may be missing.
func fit(primary, secondary []string, room int) string {
	if s := joined(append(primary[:len(primary):len(primary)], secondary...), len(primary)); len(s) <= room {
		return s
	}
	if len(secondary) > 0 {
		primary = shorten(primary, room-3)
	}
	all := append(primary[:len(primary):len(primary)], secondary...)
	for {
		s := joined(all, len(primary))
		if len(s) <= room {
			return s
		}
		if s[room-1] != '<' || !pull(all, len(primary), room) {
			return s[:room]
		}
	}
}

// shorten takes letters off the last parts of a name, down to their first, and
// then parts, until it has room.
func shorten(name []string, room int) []string {
	name = append([]string{}, name...)
	over := len(strings.Join(name, "<")) - room
	for i := len(name) - 1; i >= 0 && over > 0; i-- {
		off := min(over, len(name[i])-1)
		name[i] = name[i][:len(name[i])-off]
		over -= off
	}
	for ; over > 0; over -= 2 {
		name = name[:len(name)-1]
	}
	return name
}

// pull takes a letter off the last part that is seen whole and has more than one,
// so that the first letter of the next part moves to where a filler was the last
// character. It is false for a name of single letters, which must end so.
func pull(parts []string, surname, room int) bool {
	end, last := -1, -1
	for i, part := range parts {
		if end += 1 + len(part); i == surname {
			end++
		}
		if end >= room {
			break
		}
		if len(part) > 1 {
			last = i
		}
	}
	if last < 0 {
		return false
	}
	parts[last] = parts[last][:len(parts[last])-1]
	return true
}
