package picture

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// The quality that ImageMagick wrote a picture with, which uses the library of
// the Independent JPEG Group. Far below 25 its values reach the end of a byte.
func TestQualityAgainstImageMagick(t *testing.T) {
	for _, q := range []int{25, 30, 50, 75, 85, 90, 95, 100} {
		name := filepath.Join(t.TempDir(), "a.jpg")
		if out, err := exec.Command("convert", "-size", "64x64", "plasma:", "-quality", fmt.Sprint(q), name).CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if got := Quality(data); got < q-1 || got > q+1 {
			t.Errorf("quality %d taken for %d", q, got)
		}
	}
	for _, none := range [][]byte{nil, []byte("\xff\xd8"), []byte("\xff\xd8\xff\xdb\x00\x43\x00"), []byte("\x89PNG")} {
		if got := Quality(none); got != 0 {
			t.Errorf("%q: %d", none, got)
		}
	}
}
