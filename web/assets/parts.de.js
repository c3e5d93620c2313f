// The fixed patterns of two-dimensional symbols, in German, by their names in the
// engine.

const names = {
  "finder pattern upper left": "Suchmuster oben links",
  "finder pattern upper right": "Suchmuster oben rechts",
  "finder pattern lower left": "Suchmuster unten links",
  "timing pattern horizontal": "Taktmuster waagrecht",
  "timing pattern vertical": "Taktmuster senkrecht",
  "dark module": "dunkles Modul",
  "format information upper left": "Formatangabe oben links",
  "format information split": "Formatangabe, geteilt",
  "version information upper right": "Versionsangabe oben rechts",
  "version information lower left": "Versionsangabe unten links",
  "L1, finder left": "L1, Suchmuster links",
  "L2, finder below": "L2, Suchmuster unten",
  "bullseye": "Suchmuster in der Mitte",
  "orientation marks": "Lagezeichen",
  "mode message": "Angabe der Form",
  "reference grid": "Hilfsgitter",
  "start pattern": "Startmuster",
  "stop pattern": "Stoppmuster",
  "left row indicators": "linke Zeilenkennungen",
  "right row indicators": "rechte Zeilenkennungen",
};

const forms = [
  [/^alignment pattern at column (\d+), row (\d+)$/, "Ausrichtungsmuster in Spalte $1, Zeile $2"],
  [/^clock track above region (\d+)$/, "Taktspur über Feld $1"],
  [/^clock track right of region (\d+)$/, "Taktspur rechts von Feld $1"],
  [/^bar left of region (\d+)$/, "Balken links von Feld $1"],
  [/^bar below region (\d+)$/, "Balken unter Feld $1"],
];

/** partName is the German of a pattern's name; undefined where there is none. */
export function partName(name) {
  if (names[name]) return names[name];
  const form = forms.find(([like]) => like.test(name));
  return form && name.replace(...form);
}
