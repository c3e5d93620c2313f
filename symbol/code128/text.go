package code128

import (
	"fmt"
	"strings"

	"unspool/symbol"
)

// state follows the code sets through a symbol and collects its text.
type state struct {
	begun   bool
	in      set
	shifted bool // the next character is from the other of A and B
	// FNC4 adds 128 to the next character, doubled to all that follow: ISO/IEC
	// 15417:2007 4.3.4.2 d (from memory).
	fnc4, latched bool
	text          strings.Builder
}

// next takes one value and gives what a person calls it.
func (s *state) next(v int) string {
	if !s.begun {
		s.begun, s.in = true, set(v-startA)
		return "start " + s.in.String()
	}
	in := s.in
	if s.shifted {
		in, s.shifted = in.other(), false
	}
	switch {
	case v == fnc1:
		// In the first place FNC1 says what the data is and is not passed on;
		// elsewhere it parts two fields and is passed on as GS (4.3.4.2 a, from
		// memory). The text so far tells the two apart.
		if s.text.Len() > 0 {
			s.text.WriteByte(0x1d)
		}
		return "FNC1"
	case in == setC && v < 100:
		fmt.Fprintf(&s.text, "%02d", v)
		return fmt.Sprintf("%02d", v)
	case v < 96:
		return s.write(in.ascii(v))
	}
	return s.function(in, v)
}

// write adds a character to the text and names it.
func (s *state) write(c byte) string {
	if s.fnc4 != s.latched {
		s.fnc4 = false
		s.text.WriteRune(rune(c) + 128)
		return symbol.Label(c) + " + 128"
	}
	s.fnc4 = false
	s.text.WriteByte(c)
	return symbol.Label(c)
}

// function takes a value that is no data.
func (s *state) function(in set, v int) string {
	switch {
	case v == shift && in != setC:
		s.shifted = true
		return "shift"
	case v == fnc2:
		return "FNC2"
	case v == fnc3:
		return "FNC3"
	case v == codeA && in == setA, v == codeB && in == setB:
		if s.fnc4 {
			s.latched = !s.latched
		}
		s.fnc4 = !s.fnc4
		return "FNC4"
	}
	s.in = set(codeA - v)
	return "code " + s.in.String()
}
