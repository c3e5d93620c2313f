package design_test

import (
	"testing"

	"unspool/design"
)

// What a file says does not hang on how it is written.
func TestOutline(t *testing.T) {
	want := `{"a": 1.50, "b": ["x, y", plain, null], "c": {"d": true}}`
	for _, src := range []string{
		"a: 1.50\nb: ['x, y', plain, ~]\nc: {d: true}\n",
		"# c\na: 1.50 # c\r\nb:\r\n- \"x, y\"\r\n- plain\r\n- null\r\nc:\r\n  d: true",
	} {
		got, err := design.Outline("p.yaml", []byte(src))
		if err != nil || got != want {
			t.Errorf("%q says %s, %v", src, got, err)
		}
	}
	if _, err := design.Outline("p.yaml", []byte("a: [1")); err == nil {
		t.Error("a bracket that is not closed is no fault")
	}
}
