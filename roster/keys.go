package roster

import "strings"

// KeyKind says what is wrong with a key.
type KeyKind uint8

// Faults of keys.
const (
	KeyMissing KeyKind = iota // the cell is blank
	KeyDouble                 // an earlier row has the same key
	KeySpaced                 // it begins or ends with a space
)

func (k KeyKind) String() string {
	return [...]string{"missing key", "double key", "space round the key"}[k%3]
}

// KeyFault is a key that does not name one card.
type KeyFault struct {
	Kind  KeyKind
	Row   int    // index in Rows
	Value string // the key
	First int    // KeyDouble: index of the first row that has it
}

// Keys lists what is wrong with the keys in a column, row by row. Keys differ
// where any character differs. There is nothing to list where there is no such
// column.
func (r *Roster) Keys(column string) []KeyFault {
	if _, ok := r.index[column]; !ok {
		return nil
	}
	var faults []KeyFault
	first := make(map[string]int, len(r.Rows))
	for i, row := range r.Rows {
		key := row.Field(column)
		trimmed := strings.TrimSpace(key)
		if trimmed == "" {
			faults = append(faults, KeyFault{Kind: KeyMissing, Row: i, Value: key})
			continue
		}
		if trimmed != key {
			faults = append(faults, KeyFault{Kind: KeySpaced, Row: i, Value: key})
		}
		if at, again := first[key]; again {
			faults = append(faults, KeyFault{Kind: KeyDouble, Row: i, Value: key, First: at})
			continue
		}
		first[key] = i
	}
	return faults
}

// Suspicion is a number that looks as if a spreadsheet had taken its leading
// zeros.
type Suspicion struct {
	Row    int    // index in Rows
	Value  string // the number as it stands
	Likely string // what it probably was
}

// LostZeros lists the numbers of a column that are shorter than the rest. It
// does so only where zeros are the likely cause: more than half of the cells
// that are not blank are numbers of one length, and none is longer.
func (r *Roster) LostZeros(column string) []Suspicion {
	count := map[int]int{}
	filled, longest := 0, 0
	for _, row := range r.Rows {
		v := row.Field(column)
		if v == "" {
			continue
		}
		filled++
		if digitsOnly(v) {
			count[len(v)]++
			longest = max(longest, len(v))
		}
	}
	if 2*count[longest] <= filled || longest < 2 {
		return nil
	}
	var found []Suspicion
	for i, row := range r.Rows {
		if v := row.Field(column); digitsOnly(v) && len(v) < longest {
			found = append(found, Suspicion{Row: i, Value: v, Likely: strings.Repeat("0", longest-len(v)) + v})
		}
	}
	return found
}
