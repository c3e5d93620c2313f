package folder

import (
	"errors"
	"io"
	"log"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"github.com/go-text/typesetting/fontscan"
)

// installed finds fonts of the machine, scanned when the first is asked for.
type installed struct {
	once sync.Once
	mu   sync.Mutex
	all  *fontscan.FontMap
}

func (i *installed) scan() *fontscan.FontMap {
	i.once.Do(func() {
		m := fontscan.NewFontMap(log.New(io.Discard, "", 0))
		cache, err := os.UserCacheDir()
		if err != nil {
			cache = os.TempDir()
		}
		if m.UseSystemFonts(filepath.Join(cache, "unspool")) == nil {
			i.all = m
		}
	})
	return i.all
}

// Font reads a font file of the folder or, where name is no file name, the
// installed font of that family. Errors are worded as those of read.
func (f *Folder) Font(name string) ([]byte, error) {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".ttf", ".otf", ".ttc", ".otc", ".woff":
		return f.read(name, maxFont)
	}
	f.installed.mu.Lock()
	defer f.installed.mu.Unlock()
	m := f.installed.scan()
	if m == nil {
		return nil, errors.New("is not a font file, and no installed fonts were found; put a font file into the programme folder and name it")
	}
	at, ok := m.FindSystemFont(name)
	if !ok {
		return nil, errors.New("is not installed; install it, or put its file into the programme folder and name that")
	}
	data, err := os.ReadFile(at.File)
	if err != nil {
		return nil, unread(err)
	}
	return data, nil
}

// Fallback reads the file of an installed font that has the rune, nil where
// there is none.
func (f *Folder) Fallback(r rune) []byte {
	f.installed.mu.Lock()
	defer f.installed.mu.Unlock()
	m := f.installed.scan()
	if m == nil {
		return nil
	}
	m.SetQuery(fontscan.Query{})
	face := m.ResolveFace(r)
	if face == nil {
		return nil
	}
	if _, has := face.NominalGlyph(r); !has {
		return nil
	}
	at := m.FontLocation(face.Font)
	f.mu.Lock()
	defer f.mu.Unlock()
	if data, ok := f.fonts[at.File]; ok {
		return data
	}
	data, err := os.ReadFile(at.File)
	if err != nil {
		return nil
	}
	f.fonts[at.File] = data
	return data
}
