package edit_test

import (
	"encoding/json"
	"strings"
	"testing"

	"unspool/design/edit"
)

func TestValuesAsJSON(t *testing.T) {
	const src = "a: {text: 007, n: 4.50, b: true, c: \"#fff\", box: [1, -2.5], none: , hex: 0x1f}\n"
	v, ok := open(t, src).Value(edit.Keys("a"))
	got, err := json.Marshal(v)
	if want := `{"text":"007","n":4.50,"b":true,"c":"#fff","box":[1,-2.5],"none":null,"hex":"0x1f"}`; err != nil || !ok || string(got) != want {
		t.Errorf("%s, %v; want %s", got, err, want)
	}
	if _, ok := open(t, src).Value(edit.Keys("a", "none")); ok {
		t.Error("a key without a value has one")
	}

	var in edit.Value
	if err := json.Unmarshal([]byte(`{"text": "{x}", "box": [1.00000001, 2], "b": false, "none": null}`), &in); err != nil {
		t.Fatal(err)
	}
	s, err := open(t, "a: 1\n").Apply(edit.Set{Path: edit.Keys("a"), Value: in})
	if err != nil {
		t.Fatal(err)
	}
	if want := "a:\n  text: \"{x}\"\n  box: [1, 2]\n  b: false\n  none: null\n"; string(s.Bytes()) != want {
		t.Errorf("%s", s.Bytes())
	}
	for _, bad := range []string{`1e300`, strings.Repeat("[", 100) + strings.Repeat("]", 100)} {
		if json.Unmarshal([]byte(bad), &in) == nil {
			t.Errorf("%s is taken", bad)
		}
	}
}
