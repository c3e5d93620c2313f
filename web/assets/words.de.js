// Every word of the page, in German.

import { catalogue, causes } from "./catalogue.de.js";

const s = (n, one, many) => (n === 1 ? one : many);

export default {
  code: "de", name: "Deutsch", catalogue, causes,
  skip: "Zur Karte", nav: "Ansichten", language: "Sprache", close: "Schließen",
  views: { light: "Licht und Band", readers: "Leser", findings: "Befunde", rules: "Schwarzregeln", run: "Ganzer Lauf" },
  predicted: "Alles hier ist vorausgesagt, vor Abnutzung und Druckfehlern. Es ist keine Prüfung einer gedruckten Karte.",
  foot: "Verbrauchtes Farbband und Bilder von Karten können Türen öffnen. Verwahren Sie sie wie die Karten.",
  down: "Der Tisch hat das Programm nicht bekommen.", gone: "Der Tisch antwortet nicht. Läuft unspool noch? Starten Sie es neu und laden Sie dann diese Seite.",
  sides: { front: "Vorderseite", back: "Rückseite" }, Sides: { front: "Vorderseite", back: "Rückseite" },
  verdicts: { reads: "liest", little: "liest mit knapper Reserve", fails: "liest nicht", none: "nicht dafür gedacht" },
  levels: { stop: "Halt", look: "Ansehen", note: "Hinweis" },
  levelSays: { stop: "Karten wären verloren.", look: "Vor dem Druck nachsehen.", note: "Gut zu wissen." },
  kinds: { slot: "Durchzugsleser", hand: "Handleser", counter: "Tischleser", camera: "Kamera" },
  colours: { violet: "violett", blue: "blau", green: "grün", yellow: "gelb", orange: "orangefarben", red: "rot", infrared: "infrarot" },
  panels: { yellow: "gelber Farbstoff", magenta: "magenta Farbstoff", cyan: "cyan Farbstoff", "black-resin": "schwarzes Harz", overlay: "klarer Schutz", fluorescent: "Leuchtstoff", metallic: "Metallharz", "white-resin": "weißes Harz", "colour-resin": "farbiges Harz" },
  does: {
    yellow: "Farbstoff. Lässt Infrarot durch.", magenta: "Farbstoff. Lässt Infrarot durch.", cyan: "Farbstoff. Über Gelb und Magenta schwarz fürs Auge, nicht für Infrarot.",
    "black-resin": "Harz. Es liegt obenauf, scharf, ganz oder gar nicht.", overlay: "Schützt die Karte. Am Bild ändert er sehr wenig.",
    fluorescent: "Nur unter ultraviolettem Licht zu sehen.",
  },
  chooser: { title: "Die Karte auf dem Tisch", which: (n, of) => `Karte ${n} von ${of}:`, back: "Vorige Karte", next: "Nächste Karte", find: "Karte suchen", found: "Gefundene Karten", none: "Keine Karte hat das." },
  lamp: {
    title: "Die Lampe", label: "Wellenlänge der Lampe", eye: "Mit dem Auge", daylight: "Mit dem Auge, bei Tageslicht", unseen: "ab hier sieht kein Auge",
    at: (nm, colour, hidden) => `${colour[0].toUpperCase() + colour.slice(1)}es Licht, ${nm} nm${hidden ? ", unsichtbar" : ""}`,
  },
  light: {
    eye: "Fürs Auge ist jedes Schwarz schwarz. Bewegen Sie die Lampe: welches davon sieht ein Leser?",
    seen: (colour, nm) => `In ${colour}em Licht von ${nm} nm sieht ein Leser dies.`,
    infrared: (nm) => `Bei ${nm} nm sind Farbstoffe so hell wie die Karte; nur Kohle bleibt dunkel.`,
    reader: (reader, code, v) => `${reader} ${{ reads: `liest „${code}“.`, little: `liest „${code}“ mit knapper Reserve.`, fails: `liest „${code}“ nicht.` }[v]}`,
    card: "leere Karte", mixed: "Schwarz aus Farbstoffen", resin: "schwarzes Harz", sent: "Licht zurück:",
    cardEye: "wirkt weiß", mixedEye: "wirkt schwarz", resinEye: "wirkt schwarz",
  },
  face: {
    label: (side) => `${side} der Karte. Pfeiltasten gehen von Punkt zu Punkt, Plus und Minus zoomen.`,
    hint: "Zeigen Sie auf einen Punkt, um ihn kennenzulernen. Pfeiltasten gehen, + und − zoomen.", closer: "näher", wider: "weiter", whole: "ganz", key: (k) => `Taste ${k}`,
  },
  dot: {
    bare: "Grund", nothing: "nichts gedruckt", dyes: (list) => `Farbstoff ${list}`, mixed: "ein Schwarz aus Farbstoffen",
    reflects: (p, nm) => `Wirft ${p} von ${nm} nm zurück.`, place: (x, y) => `Punkt ${x} von links, ${y} von oben.`,
  },
  lay: {
    title: "Wie gedruckt wurde", bare: "leer", play: "Felder einzeln auflegen", pause: "Anhalten", back: "Eins zurück", next: "Nächstes Feld",
    nothing: "Die leere Karte, vor jedem Feld.", done: (n) => `Alle ${n} Felder sind auf der Karte. Legen Sie sie einzeln auf, um zu sehen, was jedes bringt.`,
    laid: (panel, side, does) => `Zuletzt aufgelegt: ${panel}, ${side}. ${does}`,
  },
  ribbon: {
    title: "Das verbrauchte Farbband", says: "Was eine Karte von einem Feld nahm, fehlt ihm. Sehen Sie auf K: was dort fehlt, ist mit Kohle gedruckt.",
    label: "Verbrauchtes Farbband des Laufs, Feld für Feld. Pfeiltasten gehen, Eingabe öffnet ein Feld.", order: "Reihenfolge des Bandes", asFed: "Wie zugeführt", asSpool: "Wie es von der Aufwickelspule kommt",
    fed: "Das Band läuft in diese Richtung; das erste Feld ist links.", spool: "In diese Richtung zugeführt; das letzte Feld kommt zuerst, um eine halbe Drehung gedreht.",
    direct: "Von der Seite des Druckkopfs gesehen, durch den Träger: es ist seitenrichtig.", mirrored: "Von der Seite des Druckkopfs gesehen: Retransferdruck ist gespiegelt.",
    care: "Menschen und Leser können verbrauchtes Band lesen.",
    frame: (i) => `. Feld ${i} des Laufs, groß öffnen.`, whose: (side, row) => `${side}, Karte ${row}`,
    missing: (name, side, row) => `Das Feld ${name} nach der ${side} von Karte ${row}: was gedruckt wurde, fehlt.`, unused: "Von diesem Feld wurde nichts gedruckt.",
  },
  readers: {
    bad: (n, of) => (of === 1 ? "Der Code wird nicht gelesen." : n === of ? "Kein Leser liest seinen Code." : `${n} von ${of} Lesungen dieser Karte ${s(n, "misslingt", "misslingen")}.`),
    good: (n) => s(n, "Der Code dieser Karte wird gelesen.", "Jeder Code dieser Karte wird gelesen, wo er muss."),
    choose: "Wählen Sie eine Lesung, um sie auf ihren Strichen zu sehen.", none: "Kein Leser hier soll einen Code dieser Karte lesen.",
    about: (kind, colour, nm) => `${kind}, ${colour} ${nm} nm.`, asks: (letter, least) => `Verlangt ${letter ? `${letter} (${String(least).replace(".", ",")})` : least} oder besser.`,
    at: (code, reader) => `${code} an ${reader}`, fine: "Nichts steht im Weg.",
    lines: (good, of) => `${good} von ${of} Linien des Lesers ${s(good, "ist", "sind")} lesbar.`,
    run: "Jede Karte, jeder Leser", runSays: "Wählen Sie eine Zelle, um ihre Abtastung auf den Strichen zu sehen.",
  },
  trace: {
    label: (code, reader) => `Abtastung von ${code}, wie ${reader} sie sieht. Pfeiltasten gehen durch die Striche, W geht zum schwächsten.`,
    hint: "Zeigen Sie auf einen Strich, oder gehen Sie mit den Pfeiltasten. W geht zum schwächsten.",
    element: (i, of, bar, char, margin) => `${bar ? "Strich" : "Lücke"}, Element ${i} von ${of}${char ? `, in „${char}“` : ""}${margin === null ? "." : `: ${margin} Spielraum übrig.`}`,
    weakest: "Das ist das schwächste Element.",
    unseen: "In diesem Licht sind die Striche nicht zu sehen. Die Marken darunter stehen, wo sie gedruckt wurden.",
    unread: "Die Striche sind zu sehen, doch der Leser kann nichts damit anfangen. Die Marken darunter stehen, wo sie gedruckt wurden.",
    key: "Die Linie ist das Licht, das zurückkommt; gestrichelt ist, wo Dunkel endet und Hell beginnt. Darunter ist jeder Strich und jede Lücke so hoch wie ihr verbliebener Spielraum, das schwächste Element ist umrandet. Darunter die Zeichen, die sie ergeben.",
  },
  figures: {
    title: "Die Werte nach ISO/IEC 15416, vorausgesagt:", says: "Von der gezeigten Abtastung, jeder mit seiner Note von 4 (beste) bis 0. Die Note des Symbols ist das Mittel aus zehn solchen Abtastungen.",
    figure: "Wert", value: "Vorausgesagt", grade: "Note", yes: "ja", no: "nein",
    names: { decode: "Dekodiert", rmin: "Kleinste und größte Reflexion", sc: "Symbolkontrast", ecmin: "Kleinster Kantenkontrast", mod: "Modulation", defects: "Defekte", decodability: "Dekodierbarkeit", quiet: "Ruhezonen, links und rechts" },
    made: (edition, aperture, nm) => `${edition}, Blende ${aperture} mm, Licht von ${nm} nm.`,
  },
  list: {
    filter: "Welche Karten",
    label: "Karten des Laufs nach Leser", row: "Karte", key: "Schlüssel", find: "Suchen", fails: "Nicht gelesen von", level: "Befunde", any: "alle",
    nothing: "Keine Karte ist so.", notYet: "Der ganze Lauf ist noch nicht geprüft. Starten Sie ihn unter „Ganzer Lauf“.", coming: "Die ersten Karten sind unterwegs.",
    cell: (row, code, reader, v) => `Karte ${row}, ${code} an ${reader}: ${v}. Abtastung zeigen.`, show: (row) => `Karte ${row} auf den Leuchttisch legen`,
  },
  findings: {
    filter: "Welche Befunde",
    list: "Befunde", of: "Von", run: "ganzem Lauf", card: (n) => `Karte ${n}`, level: "Stufe", reader: "Leser", element: "Element", any: "alle",
    stops: (n) => s(n, "Eines hält den Lauf auf.", `${n} Dinge halten den Lauf auf.`), stopsCard: (n) => s(n, "Eines hält diese Karte auf.", `${n} Dinge halten diese Karte auf.`),
    looks: (n) => s(n, "Eines ist vor dem Druck anzusehen.", `${n} Dinge sind vor dem Druck anzusehen.`), none: "Nichts hält den Lauf auf.",
    choose: "Wählen Sie einen Befund, um seinen Ort auf der Karte zu sehen.", nothing: "Kein Befund ist so.", cards: (n, k) => `${n} ${s(k, "Karte", "Karten")}`,
    measure: "Gemessen", limit: "Gehalten gegen", source: "Quelle", remedy: "Was zu tun ist", toRules: "Die Schwarzregeln nebeneinander probieren",
    inLight: (reader, nm) => `Im Licht von ${reader}, ${nm} nm`, rows: "Auf den Karten", more: (n) => `und ${n} weiteren`,
  },
  ruleNames: { none: "keine", exact: "genau", dark: "dunkel", objects: "Objekte", zones: "Zonen", all: "alles" },
  ruleSays: {
    none: "nichts geht ins Harz; Schwarz wird aus Farbstoffen gemischt", exact: "Punkte, die genau schwarz sind", dark: "jeder dunkle Punkt",
    objects: "schwarzer Text, Linien und Codes, die als Objekte ankommen; Bilder nie", zones: "dunkle Punkte in den Zonen", all: "alles, als volles Harz oder als Punktmuster; keine Farbstoffe",
  },
  rules: {
    now: { reads: "Die jetzige Schwarzregel taugt für diese Karte.", little: "Die jetzige Schwarzregel lässt wenig Reserve.", fails: "Die jetzige Schwarzregel macht etwas kaputt.", none: "Es gilt keine Schwarzregel." },
    choose: "Hier ist dieselbe Karte unter jeder.", says: "Die Schwarzregel des Druckertreibers bestimmt, welche Punkte ins schwarze Harz gehen. Ein Foto im Harz verliert seine Grautöne.",
    light: "Gesehen", inUse: "In Gebrauch", nowInUse: "jetzt in Gebrauch", use: "Diese Regel nehmen", photo: (n) => `${n} Punkte des Fotos verlieren ihr Grau ans Harz`, noPhoto: "das Foto bleibt im Farbstoff", at: (reader, code) => `${code} an ${reader}`,
    picture: (side, rule) => `Die ${side} unter der Regel „${rule}“`, trying: "Die Karten werden getrennt …", undo: "Rückgängig", redo: "Wiederholen",
    set: (rule, side) => `Die ${side} wird jetzt nach der Regel „${rule}“ gedruckt. Die Datei ist, wie sie war; stellen Sie dieselbe Regel im Druckertreiber ein.`,
  },
  run: {
    label: "Geprüfte Karten", start: "Den ganzen Lauf prüfen", again: "Noch einmal prüfen", stop: "Anhalten", resume: "Weiter", cards: "Karte für Karte",
    title: { idle: (d, t) => `${t} Karten warten auf ihre Prüfung.`, running: (d, t) => `${d} von ${t} Karten sind geprüft.`, stopped: (d, t) => `Angehalten nach ${d} von ${t} Karten.`, done: (d, t) => `Alle ${t} Karten sind geprüft.` },
    said: (n) => (n ? `${n} davon wären verloren.` : "Keine wäre verloren."), rate: (r, left) => `${r} Karten in der Sekunde, ${left}.`,
    left: (sec) => (sec < 5 ? "noch wenige Sekunden" : sec < 90 ? `noch etwa ${Math.round(sec)} Sekunden` : `noch etwa ${Math.round(sec / 60)} Minuten`),
    count: (n, k, v) => `${n}-mal: ${v}`, lowest: (g, row) => `niedrigste vorausgesagte Note ${g}, Karte ${row}`,
  },
};
