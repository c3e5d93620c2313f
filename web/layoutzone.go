package web

import (
	"strings"

	"unspool/design/edit"
)

// zoneColumns are the fields of a new machine readable zone: parts of names that
// columns for them often have (common practice, no source), and what stands there
// where no column has one, as in the specimens of ICAO Doc 9303.
var zoneColumns = []struct {
	key    string
	called []string
	plain  string
}{
	{"born", []string{"born", "birth", "geb"}, "1974-08-12"},
	{"sex", []string{"sex", "gender", "geschlecht"}, ""},
	{"expires", []string{"expir", "valid", "ablauf", "gültig"}, "2012-04-15"},
	{"nationality", []string{"national", "staatsang"}, "UTO"},
	{"surname", []string{"surname", "family", "last", "nachname", "name"}, "SPECIMEN"},
	{"forenames", []string{"given", "first", "forename", "vorname"}, ""},
}

// zoneKeys are the keys of a new machine readable zone but for its box.
func (s *snapshot) zoneKeys(number edit.Value) []edit.Pair {
	keys := []edit.Pair{{Key: "mrz", Value: edit.Text("td1")}, {Key: "document", Value: edit.Text("I")},
		{Key: "state", Value: edit.Text("UTO")}, {Key: "number", Value: number}}
	for _, f := range zoneColumns {
		value := f.plain
		if column := s.columnCalled(f.called); column != "" {
			value = "{" + column + "}"
		}
		if value != "" {
			keys = append(keys, edit.Pair{Key: f.key, Value: edit.Text(value)})
		}
	}
	return keys
}

// columnCalled is the first column whose name has one of the parts, the first part
// before the second; "" where there is none.
func (s *snapshot) columnCalled(parts []string) string {
	for _, part := range parts {
		for _, c := range s.files.Roster.Columns {
			if strings.Contains(strings.ToLower(c), part) {
				return c
			}
		}
	}
	return ""
}
