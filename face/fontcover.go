package face

import (
	"reflect"
	"unsafe"

	gofont "github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/opentype/tables"
)

// plainCoverage rewrites the coverage tables of a font that list ranges of glyphs
// so that they list the glyphs. The shaper (go-text/typesetting 0.3.5) filters
// glyphs by a digest of these tables and loses the ranges that follow a long one;
// letters of Noto Sans Arabic then do not join and Greek is not kerned. It is
// issue 278 there, mended after that release; with the next one this file can go.
func plainCoverage(f *gofont.Font) {
	left := maxCovered
	for _, l := range f.GSUB.Lookups {
		for i := range l.Subtables {
			plain(reflect.ValueOf(&l.Subtables[i]).Elem(), &left)
		}
	}
	for _, l := range f.GPOS.Lookups {
		for i := range l.Subtables {
			plain(reflect.ValueOf(&l.Subtables[i]).Elem(), &left)
		}
	}
}

// maxCovered bounds the glyphs listed anew in one font; the large Chinese,
// Japanese and Korean ones have half a million.
const maxCovered = 8_000_000

var coverageType = reflect.TypeFor[tables.Coverage]()

// plain rewrites the coverage tables in v, an addressable lookup or part of one.
// Tables that the parser keeps to itself are reached by their address.
func plain(v reflect.Value, left *int) {
	switch v.Kind() {
	case reflect.Interface:
		if v.IsNil() {
			return
		}
		if v.Type() == coverageType {
			if c, ok := v.Interface().(tables.Coverage2); ok {
				if listed, ok := list(c, left); ok {
					v.Set(reflect.ValueOf(listed))
				}
			}
			return
		}
		inner := reflect.New(v.Elem().Type()).Elem()
		inner.Set(v.Elem())
		plain(inner, left)
		v.Set(inner)
	case reflect.Struct:
		for i := range v.NumField() {
			field := v.Field(i)
			plain(reflect.NewAt(field.Type(), unsafe.Pointer(field.UnsafeAddr())).Elem(), left)
		}
	case reflect.Slice:
		if v.Type().Elem() == coverageType {
			for i := range v.Len() {
				plain(v.Index(i), left)
			}
		}
	}
}

// list gives the glyphs of the ranges; it is false for tables that are not in
// order, which are left as they are.
func list(c tables.Coverage2, left *int) (tables.Coverage1, bool) {
	var glyphs []tables.GlyphID
	for _, r := range c.Ranges {
		n := len(glyphs)
		if r.EndGlyphID < r.StartGlyphID || int(r.StartCoverageIndex) != n || n > 0 && r.StartGlyphID <= glyphs[n-1] {
			return tables.Coverage1{}, false
		}
		if *left -= int(r.EndGlyphID-r.StartGlyphID) + 1; *left < 0 {
			return tables.Coverage1{}, false
		}
		for g := int(r.StartGlyphID); g <= int(r.EndGlyphID); g++ {
			glyphs = append(glyphs, tables.GlyphID(g))
		}
	}
	return tables.Coverage1{Glyphs: glyphs}, true
}
