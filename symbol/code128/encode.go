package code128

import (
	"fmt"
	"strings"

	"unspool/say"
	"unspool/symbol"
)

// Encode makes the narrowest symbol for text, which may hold any ASCII
// character. An empty text and a character beyond ASCII are errors.
func Encode(text string) (symbol.Logical, error) { return encode(text, text) }

// EncodeGS1 is Encode for data of the GS1 system: the symbol begins with FNC1,
// which says so, and each GS of the text is FNC1 too, which parts two elements.
// ISO/IEC 15417:2007 Annex B (from memory).
func EncodeGS1(text string) (symbol.Logical, error) {
	fnc1 := string([]byte{mark})
	return encode(text, fnc1+strings.ReplaceAll(text, "\x1d", fnc1))
}

// encode makes the symbol of text, whose characters and function characters are
// in marked.
func encode(text, marked string) (symbol.Logical, error) {
	if text == "" {
		return symbol.Logical{}, say.Errorf("Code 128 needs at least one character of text")
	}
	for i, r := range text {
		if r > 0x7f {
			return symbol.Logical{}, symbol.CannotCarry("Code 128", text, i, "write it in plain ASCII, without accents")
		}
	}
	l := assemble(values(marked))
	l.Text = text
	return l, nil
}

// values is the shortest row of values that carries a text, perhaps marked, from the start
// character to the last data character. Among rows of one length it prefers a
// start in set C, then B, and to change the set as late as it can.
func values(text string) []int {
	plan := plan(text)
	at, in := 0, setC
	for _, s := range []set{setB, setA} {
		if plan[0][s].stay < plan[0][in].stay {
			in = s
		}
	}
	row := []int{startA + int(in)}
	for at < len(text) {
		if to := plan[at][in].change; to != in {
			row = append(row, changeTo(to))
			in = to
		}
		switch v := in.value(text[at]); {
		case text[at] == mark:
			row = append(row, fnc1)
		case in == setC:
			row = append(row, pair(text, at))
			at++
		case v >= 0:
			row = append(row, v)
		default:
			row = append(row, shift, in.other().value(text[at]))
		}
		at++
	}
	return row
}

// step is what is known of the rest of a text from one place in one set.
type step struct {
	stay   int // characters needed where the next one is in this set
	least  int // characters needed at all
	change set // set to be in for the next character
}

// never is more characters than any text needs.
const never = 1 << 40

// plan works backwards through the text: from each place and in each set, the
// fewest symbol characters for the rest.
func plan(text string) [][3]step {
	plan := make([][3]step, len(text)+1)
	for at := len(text) - 1; at >= 0; at-- {
		here := &plan[at]
		for s := range setC {
			here[s].stay = 1 + plan[at+1][s].least
			if s.value(text[at]) < 0 {
				here[s].stay++ // with SHIFT
			}
		}
		here[setC].stay = never
		switch {
		case text[at] == mark:
			here[setC].stay = 1 + plan[at+1][setC].least
		case pair(text, at) >= 0:
			here[setC].stay = 1 + plan[at+2][setC].least
		}
		for s := range here {
			here[s].least, here[s].change = here[s].stay, set(s)
			for _, to := range []set{setB, setA, setC} {
				if n := 1 + here[to].stay; n < here[s].least {
					here[s].least, here[s].change = n, to
				}
			}
		}
	}
	return plan
}

// pair is the value of the two digits at a place in the text, or -1.
func pair(text string, at int) int {
	if at+2 > len(text) || !symbol.Digits(text[at:at+2]) {
		return -1
	}
	return int(text[at]-'0')*10 + int(text[at+1]-'0')
}

// changeTo is the value that changes to a code set: 101 A, 100 B, 99 C.
func changeTo(s set) int { return codeA - int(s) }

// assemble makes a symbol of values, adding check and stop. It leaves Text to
// the caller.
func assemble(values []int) symbol.Logical {
	l := symbol.Logical{Family: symbol.Modular}
	var st state
	for _, v := range values {
		l.Append(st.next(v), v, units[v])
	}
	check := mod103(values)
	l.Append(fmt.Sprintf("check %d", check), check, units[check])
	l.Append("stop", stop, units[stop])
	return l
}

// mod103 is the check character of ISO/IEC 15417:2007 Annex A.1: the start value
// plus each following value times its position, modulo 103.
func mod103(values []int) int {
	sum := values[0]
	for i, v := range values {
		sum += i * v
	}
	return sum % 103
}
