package sheet

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"

	"glassbrief/catalog"
	"glassbrief/lang"
)

// ShotKind is the kind of a list of shots, in [Options]: its rows become shots of a scenario. No
// other list is taken for one.
const ShotKind = "shot"

// shotKind gives the columns of a list of shots. What is kept of a row for people only becomes a
// comment.
func shotKind() *kind {
	return &kind{keyword: ShotKind, title: "Shots", typical: []string{"frame", "move", "scene"}, columns: []column{
		{keyword: nameColumn, title: "Shot name", read: readLine, words: shotTitles, required: true},
		{keyword: actionColumn, title: "Description", read: readLine, words: shotActionTitles},
		{keyword: "scene", title: "Scene", read: readScene, words: shotSceneTitles},
		{keyword: "heading", title: "Heading", read: readLine, words: headingTitles},
		{keyword: "subject", title: "Subject", read: readSubject, words: subjectTitles, dim: lang.Length},
		{keyword: "frame", title: "Framing", read: readFraming, words: framingTitles},
		{keyword: "distance", title: "Distance", read: readDistance, words: distanceTitles, dim: lang.Length},
		{keyword: "move", title: "Move", read: readMove, words: moveTitles, dim: lang.Speed},
		{keyword: "support", title: "Support", read: readSupport, words: supportTitles},
		{keyword: "light", title: "Light", read: readLight, words: lightTitles, dim: lang.Illuminance},
		{keyword: "focus", title: "Focus", read: readPuller, words: pullerTitles},
		{keyword: "weight", title: "Weight", read: readQuantity, words: weightTitles},
		{keyword: "background", title: "Background", read: readQuantity, words: backgroundTitles, dim: lang.Length},
		{keyword: "passage", title: "Passage", read: readQuantity, words: passageTitles, dim: lang.Length},
		{keyword: "rate", title: "Frame rate", read: readQuantity, words: shotRateTitles, dim: lang.Rate, unit: "fps"},
		{keyword: lensColumn, title: "Lens", read: readRemark, words: shotLensTitles},
		{keyword: "about", title: "Notes", read: readLine, words: shotNotesTitles},
	}}
}

// Columns of a list of shots that are no statement.
const (
	actionColumn = "action"
	lensColumn   = "lens"
)

// sceneWord matches the names of scenes that need no quotes.
var sceneWord = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(?:\d{1,4}[A-Za-z]{0,2}|[A-Za-z]\d{1,4})$`) })

func readScene(v *value) string {
	text := v.plainText()
	if text == "" || sceneWord().MatchString(text) {
		return text
	}
	return lang.Quote(text)
}

// readRemark keeps a cell for people only.
func readRemark(v *value) string {
	v.row.note(v, v.plainText())
	return ""
}

// subjectForm parts what is seen from its size.
var subjectForm = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(\D*?)[\s:,]*(\d.*)?$`) })

// counted matches a number of people before what they are.
var counted = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^\d+ (\pL.*)$`) })

// readSubject reads "person 1.78m", "2 people 1.2 x 1.78 m" and "object 0.9 x 1.4 m". A name
// alone, which says nothing of a size, is kept as a remark.
func readSubject(v *value) string {
	text := v.takeRemark()
	if m := counted().FindStringSubmatch(text); m != nil {
		v.remark = strings.TrimPrefix(v.remark+", "+text[:len(text)-len(m[1])-1]+" of them", ", ")
		text = m[1]
	}
	m := subjectForm().FindStringSubmatch(text)
	if m == nil || m[2] == "" {
		v.row.note(v, text)
		return ""
	}
	is := v.takeRough(m[1])
	found := spelled(is, map[string]string{
		"person": "character, man, woman, child, boy, girl, figur, mann, frau, kind, personne, personnage, homme, femme, enfant, persona, personaje, hombre, mujer, niño, niña, personaggio, uomo, donna, bambino, bambina, persoon, personage, vrouw",
		"people": "persons, group, couple, crowd, personen, leute, gruppe, paar, personnes, groupe, gens, personas, gente, grupo, pareja, persone, gruppo, coppia, mensen, groep, paar",
		"object": "thing, prop, insert, objekt, gegenstand, requisite, requisit, objet, accessoire, objeto, oggetto, voorwerp, rekwisiet",
		"place":  "room, set, ort, raum, lieu, pièce, décor, lugar, sitio, habitación, luogo, stanza, plaats, plek, kamer, ruimte",
	})
	if len(found) != 1 {
		v.fail(lang.UnknownWord, fmt.Sprintf(`Write what it is before its size, as "person %s" or "object %[1]s".`, m[2]), "does not say what is seen: %q", text)
		return ""
	}
	sides := strings.Split(strings.ToLower(m[2]), "x")
	kind := found[0]
	switch {
	case len(sides) == 2:
		return kind + " " + v.quantity(v.shareUnit(sides[0], sides[1]), v.unit) + " x " + v.quantity(sides[1], v.unit)
	case len(sides) > 2 || kind == "people" || kind == "place":
		v.fail(lang.WrongKind, `Write width and height, as "`+kind+` 1.2 x 1.78 m".`, "is no size: %q", m[2])
		return ""
	}
	return kind + " " + v.quantity(m[2], v.unit)
}

// framings are the words for framings from the tightest to the widest, with how lists spell
// them. What means one framing in a language and another in the next stands with both.
var framings = []struct{ word, spellings string }{
	{"extreme-close", "ecu, xcu, extreme close up, detail, insert, detailaufnahme, großdetail, très gros plan, tgp, plan de détail, plan détail, primerísimo primer plano, ppp, plano detalle, pd, primissimo piano, dettaglio, extreem close, detailopname"},
	{"close", "cu, close up, closeup, großaufnahme, groß, gross, gros plan, gp, primer plano, pp, primo piano, close up shot"},
	{"medium-close", "mcu, medium close up, medium closeup, nah, nahaufnahme, plan rapproché, plan rapproché poitrine, rapproché, prp, pr, plano medio corto, pmc, mezzo primo piano, mpp"},
	{"medium", "ms, mid, mid shot, medium shot, waist shot, halbnah, halbnahe, hn, plan rapproché taille, plan taille, prt, plano medio, pm, piano medio, mezza figura, mf, medium opname, halftotaal"},
	{"medium-full", "mls, mws, medium long shot, medium wide, medium long, cowboy, american, american shot, knee shot, amerikanisch, amerikanische, am, plan américain, pa, plano americano, piano americano, americaans, amerikaans, amerikaans shot"},
	{"full", "fs, full shot, ls, long shot, halbtotale, ht, plan moyen, pm, plan pied, en pied, plano entero, pe, figura intera, fi, totaal, ts"},
	{"wide", "ws, wide shot, wider shot, totale, plan d ensemble, plan large, pe, plano general, pg, plano conjunto, campo totale, campo medio, cm, campo lungo, cl, wijd, wijd shot, ruim totaal"},
	{"extreme-wide", "ews, xws, els, extreme wide shot, extreme long shot, very wide, panorama, weit, weite, supertotale, plan général, pg, plan très large, gran plano general, gpg, campo lunghissimo, cll, extreem wijd, panoramashot"},
}

// framingJoints can stand between two framings.
var framingJoints = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`\s*(?:->|→|\.\.|–|—| - | to | bis | à | a | hasta | tot | naar | zu )\s*`)
})

// readFraming reads "CU", "medium close-up", "wide to close" and "35-60%". Of two framings the
// tighter comes first, for it is that of the nearest distance.
func readFraming(v *value) string {
	text := v.takeRemark()
	if strings.Contains(text, "%") {
		return v.interval(text, "%")
	}
	if at := v.framing(text, false); at >= 0 {
		return framings[at].word
	}
	sides := framingJoints().Split(text, -1)
	if v.wrong || len(sides) != 2 {
		v.framing(text, true)
		return ""
	}
	a, b := v.framing(sides[0], true), v.framing(sides[1], true)
	if v.wrong {
		return ""
	}
	if a == b {
		return framings[a].word
	}
	return framings[min(a, b)].word + ".." + framings[max(a, b)].word
}

// framing finds the place of a framing in the order, or gives -1. One that can be two is a
// fault, and with must one that is none.
func (v *value) framing(text string, must bool) int {
	var at []int
	var names []string
	for i, f := range framings {
		if len(spelled(text, map[string]string{f.word: f.spellings})) > 0 {
			at, names = append(at, i), append(names, f.word)
		}
	}
	switch {
	case len(at) == 1:
		return at[0]
	case len(at) > 1:
		v.fail(lang.UnknownWord, "Write which.", "can be read in two ways: %q is %s", text, lang.Quoted(names))
	case must:
		for _, f := range framings {
			names = append(names, f.word)
		}
		v.fail(lang.UnknownWord, fmt.Sprintf("Write %s, or two with \"to\" between.", lang.Quoted(names)), "is no framing: %q", text)
	}
	return -1
}

// spelled lists the words that a text is a spelling of, whatever stands between its letters:
// "M.C.U." is "mcu", and "close-up" is "closeup".
func spelled(text string, spellings map[string]string) []string {
	var found []string
	bare := func(text string) string { return strings.ReplaceAll(phraseOf(text), " ", "") }
	wanted := bare(text)
	for word, list := range spellings {
		if wanted == bare(word) || slices.ContainsFunc(words(list), func(spelling string) bool { return bare(spelling) == wanted }) {
			found = append(found, word)
		}
	}
	slices.Sort(found)
	return found
}

// readDistance reads "2 m", "1.6-2.8 m", "4 m to 1.5 m" and "within 1-4 m". Which end is the
// nearest is plain, in whatever order they stand.
func readDistance(v *value) string {
	text := v.takeRemark()
	room := ""
	if first, rest, ok := strings.Cut(text, " "); ok && slices.Contains(words("within, anywhere, innerhalb, dans, dentro, entro, binnen"), fold(first)) {
		room, text = "within ", rest
	}
	low, high, isRange := ends(text)
	if isRange && low != "" && high != "" {
		a, errA := lang.ParseQuantity("", v.figure(v.shareUnit(low, high), v.unit), lang.Length)
		b, errB := lang.ParseQuantity("", v.figure(high, v.unit), lang.Length)
		if errA == nil && errB == nil && a.Value > b.Value {
			text = high + " .. " + v.shareUnit(low, high)
		}
	}
	if isRange && (low == "" || high == "") {
		v.fail(lang.BadInterval, `Write both ends, as "1.6-2.8 m".`, "lacks an end: %q", text)
		return ""
	}
	return room + v.interval(text, v.unit)
}

// moveSpellings are how lists spell moves. What does not say which way the camera goes stands
// with each that it can be. A pan is a hold that turns.
var moveSpellings = map[string]string{
	"hold": "static, still, none, no, lock off, locked off, locked, stationary, statisch, fest, stand, steht, keine, fixe, plan fixe, statique, aucun, fijo, fija, estático, estática, plano fijo, ninguno, " +
		"fisso, fissa, statico, statica, nessuno, vast, stilstaand, geen",
	panMove:        "panning, pan left, pan right, schwenk, schwenken, panoramique, pano, panorámica, paneo, panoramica, zwenk, tilt, tilt up, tilt down",
	"follow":       "following, follow behind, verfolgung, folgen, hinterher, suivre, suivi, travelling suivi, seguimiento, seguir, seguire, volgen, " + anyTravel,
	"lead":         "leading, walk backwards, vorausfahrt, voraus, précéder, devancer, preceder, precedere, vooruit lopen, voorop, " + anyTravel,
	"side":         "side tracking, lateral, sideways, alongside, parallel, parallelfahrt, seitlich, seitfahrt, travelling latéral, latéral, travelling lateral, lateral, carrellata laterale, laterale, zijwaarts, parallelrijder, " + anyTravel,
	"orbit":        "circle, circling, arc, around, umkreisung, umfahrt, kreisfahrt, travelling circulaire, circulaire, órbita, orbital, circular, travelling circular, carrellata circolare, circolare, omcirkeling, rondrijder",
	"push-in":      "push, dolly in, track in, move in, zufahrt, hinfahrt, ranfahrt, travelling avant, avancer, travelling in, acercamiento, travelling de acercamiento, carrellata avanti, carrellata in avanti, avvicinamento, inrijder, inrijden, " + anyTravel,
	"pull-out":     "pull, pull back, pull away, dolly out, track out, move out, rückfahrt, wegfahrt, travelling arrière, reculer, travelling out, alejamiento, travelling de alejamiento, carrellata indietro, allontanamento, uitrijder, uitrijden, " + anyTravel,
	"boom":         "crane, jib, boom up, boom down, crane up, crane down, pedestal, kran, kranfahrt, grue, grúa, gru, kraan, kraanbeweging",
	"pass-through": "through, durchfahrt, durch, traversée, à travers, atravesar, a través, attraversamento, attraverso, doorheen, door de deur",
	"stairs":       "staircase, treppe, treppen, escalier, escaliers, escalera, escaleras, scala, scale, trap, trappen",
}

const (
	panMove   = "pan"
	anyTravel = "dolly, tracking, track, travelling, traveling, fahrt, kamerafahrt, travelín, carrellata, carrello, rijder"
)

var (
	lowMode = sync.OnceValue(func() []string {
		return words("low, low mode, tief, tiefe position, bodennah, ras du sol, en bas, bajo, a ras de suelo, basso, raso terra, laag")
	})
	running = sync.OnceValue(func() []string {
		return words("run, running, rennen, laufschritt, rennend, en courant, course, corriendo, carrera, di corsa, correndo, rennend")
	})
)

// figureBehind parts a word from the figure behind it, and from what stands behind that.
var figureBehind = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(\D*)(\d[\d.,]*(?:\s?[^\s\d]\S*)?)?(.*)$`)
})

// paces say how fast a move is without a figure; they are kept as a remark.
var paces = sync.OnceValue(func() []string {
	return words("slow, slowly, fast, quick, gently, langsam, langsame, schnell, schnelle, lent, lente, lentement, rapide, lento, lenta, lentamente, rápido, rápida, veloce, lentamente, langzaam, langzame, snel, snelle")
})

// withoutPace takes the words for a pace from a move.
func (v *value) withoutPace(text string) string {
	var kept []string
	for _, word := range strings.Fields(text) {
		if slices.Contains(paces(), phraseOf(word)) {
			v.remark = strings.TrimPrefix(v.remark+", "+word, ", ")
			continue
		}
		kept = append(kept, word)
	}
	return strings.Join(kept, " ")
}

// readMove reads "static", "follow 1.2 m/s", "slow push in", "pan 8 deg/s" and "lead, low mode, run".
func readMove(v *value) string {
	text := v.withoutPace(v.takeRemark())
	var parts []string
	for _, part := range moveJoints().Split(text, -1) {
		m := figureBehind().FindStringSubmatch(part)
		for _, piece := range []string{m[1], m[2], m[3]} { // words, a figure with its unit, words
			if piece = strings.TrimSpace(piece); piece != "" {
				parts = append(parts, piece)
			}
		}
	}
	word, speed, how := "", "", ""
	for i, part := range parts {
		switch name := phraseOf(part); {
		case part[0] >= '0' && part[0] <= '9':
			if speed != "" {
				v.fail(lang.BadNumber, "Write one.", "gives two speeds: %q", text)
			}
			speed = part
		case slices.Contains(lowMode(), name):
			how = " low mode" + how
		case slices.Contains(running(), name):
			how += " run"
		case i == 0:
			word = v.move(part)
		default:
			v.fail(lang.UnknownWord, `Write "low mode" or "run" behind the move, or put it in brackets.`, "says more of the move than is understood: %q", part)
		}
	}
	if v.wrong || len(parts) == 0 {
		return ""
	}
	if word == "" {
		v.fail(lang.MissingValue, `Write the move first, as "follow, low mode".`, "does not say how the camera moves: %q", text)
		return ""
	}
	turns := word == panMove
	if turns && speed == "" {
		v.fail(lang.MissingValue, `Write how fast it turns, as "pan 8 deg/s".`, "is a pan without its speed")
		return ""
	}
	if turns || word == "hold" {
		turning := *v.column
		turning.dim, word = lang.AngularSpeed, "hold"
		v.column = &turning
	}
	if speed != "" {
		speed = " " + v.quantity(speed, v.unit)
	}
	return word + speed + how
}

// moveJoints stand between what a cell says of a move. A comma needs a blank behind it, because
// in "1,2 m/s" it is the decimal mark.
var moveJoints = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\s*(?:[;+&]|,(?:\s|$))\s*`) })

// move finds the word of a move. One that does not say which way it goes is a fault.
func (v *value) move(text string) string {
	found := spelled(text, moveSpellings)
	switch len(found) {
	case 1:
		return found[0]
	case 0:
		names := make([]string, 0, len(moveSpellings))
		for name := range moveSpellings {
			names = append(names, name)
		}
		slices.Sort(names)
		v.fail(lang.UnknownWord, fmt.Sprintf("Write %s, and remarks in brackets.", lang.Quoted(names)), "is no move: %q", text)
	default:
		v.fail(lang.UnknownWord, fmt.Sprintf("Write %s.", lang.Quoted(found)), "does not say which way the camera goes: %q", text)
	}
	return ""
}

func readSupport(v *value) string {
	return v.choose(map[string]string{
		"sled":   "handheld, hand held, handgehalten, handkamera, à la main, en mano, a mano, uit de hand, stabiliser, stabilizer, schwebestativ, stabilisateur, estabilizador, stabilizzatore",
		"docked": "dock, im dock, en dock",
		"legs":   "tripod, sticks, stativ, dreibein, trépied, pied, trípode, treppiede, cavalletto, statief",
	})
}

func readPuller(v *value) string {
	return v.choose(map[string]string{
		"fixed":  "set, no, none, fix, fest, nein, fixe, non, fijo, no hay, fisso, vast, nee",
		"pulled": "pull, puller, yes, y, manual, gezogen, ja, assistent, suivi, pointeur, oui, foquista, seguido, sí, fuochista, seguito, getrokken, focus puller",
		"auto":   "af, autofocus, autofokus, automatisch, automatique, automático, automatico",
	})
}

// lightValue matches an exposure value at ISO 100.
var lightValue = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?i)^(?:ev|lw|il) ?(-?\d[\d.,]*)$`) })

// readLight reads "320 lx", "30 fc", "EV 7" and a level by its name.
func readLight(v *value) string {
	text := v.takeRemark()
	if m := lightValue().FindStringSubmatch(text); m != nil {
		out := "EV" + v.number(m[1])
		_, err := lang.ParseQuantity(v.column.title, out, lang.Illuminance)
		return v.check(out, err)
	}
	for _, level := range v.row.reading.options.Levels {
		if phraseOf(level) == phraseOf(text) {
			return level
		}
	}
	if !strings.ContainsAny(text, "0123456789") {
		v.fail(lang.UnknownWord, fmt.Sprintf("Write what a meter reads, as \"320 lx\" or \"EV 7\", or %s.", lang.Quoted(v.row.reading.options.Levels)), "is no light that is known: %q", text)
		return ""
	}
	return v.quantity(text, v.unit)
}

// shotIDs makes the names of shots that are called the same, as in a list that begins anew with
// each scene, different by the scene: "A" of scene 4 becomes "4A", and "1" becomes "4-1".
func shotIDs(drafts []catalog.Draft) {
	count := map[string]int{}
	for _, d := range drafts {
		count[d.Name]++
	}
	sceneOf := func(d catalog.Draft) string {
		at := slices.IndexFunc(d.Lines, func(line catalog.Line) bool { return line.Keyword == "scene" })
		if at < 0 {
			return ""
		}
		if bare, ok := lang.Unquote(d.Lines[at].Value); ok {
			return bare
		}
		return d.Lines[at].Value
	}
	repeated := func(d catalog.Draft) bool { return count[d.Name] > 1 }
	bare := func(d catalog.Draft) bool { return !strings.HasPrefix(d.Name, sceneOf(d)) }
	if !slices.ContainsFunc(drafts, repeated) || !slices.ContainsFunc(drafts, bare) {
		return // each has a name of its own, or two are really called the same
	}
	for i := range drafts {
		d := &drafts[i]
		scene := sceneOf(*d)
		if scene == "" {
			continue
		}
		joint := ""
		if strings.ContainsAny(d.Name[:1], "0123456789") {
			joint = "-"
		}
		d.Name = scene + joint + d.Name
	}
}
