package sheet

import "slices"

// titles are what people write above a column, in English, German, French, Spanish, Italian
// and Dutch: in lower case, without units, with single blanks between words and commas between
// titles. Accents do not matter, and neither does what stands between words.
type titles [6]string

// Languages names the languages of titles, in their order.
var Languages = [...]string{"English", "German", "French", "Spanish", "Italian", "Dutch"}

// A Heading is a column that a list may have, with the titles that people write above it.
type Heading struct {
	Kind    string // keyword of the block that a row describes
	Keyword string // of the statement, or what part of one
	Titles  [len(Languages)]string
}

// Headings lists the columns of lists of equipment and of shots.
func Headings() (all []Heading) {
	for _, k := range append(slices.Clone(kinds()), kindOf(ShotKind)) {
		for _, c := range k.columns {
			all = append(all, Heading{k.keyword, c.keyword, c.words})
		}
	}
	return all
}

// Of every kind of item.
var (
	nameTitles = titles{
		"name, model, designation, item, title",
		"bezeichnung, modell, artikel, gerät",
		"nom, modèle, désignation, référence, intitulé",
		"nombre, modelo, denominación, designación, artículo",
		"nome, modello, denominazione, designazione, articolo",
		"naam, benaming, aanduiding",
	}
	makerTitles = titles{
		"maker, make, brand, manufacturer, series, set, line",
		"hersteller, marke, serie, reihe",
		"marque, fabricant, constructeur, gamme",
		"marca, fabricante",
		"fabbricante, produttore, costruttore",
		"merk, fabrikant",
	}
	notesTitles = titles{
		"about, notes, note, remarks, remark, comments, comment, info, description",
		"bemerkung, bemerkungen, notiz, notizen, beschreibung, anmerkung, anmerkungen, hinweis, hinweise, kommentar",
		"remarque, remarques, commentaire, commentaires, observation, observations",
		"nota, notas, observación, observaciones, comentario, comentarios, descripción",
		"osservazione, osservazioni, commento, commenti, descrizione, annotazioni",
		"opmerking, opmerkingen, notitie, notities, toelichting, omschrijving, bijzonderheden",
	}
	mountTitles = titles{
		"mount, lens mount, fitting, bayonet, mount type",
		"anschluss, objektivanschluss, bajonett, objektivbajonett",
		"monture, type de monture, baïonnette",
		"montura, tipo de montura, bayoneta",
		"attacco, tipo di attacco, innesto, baionetta",
		"vatting, lensvatting, bajonet, aansluiting",
	}
	massTitles = titles{
		"mass, weight, wt",
		"gewicht, masse",
		"poids",
		"peso, masa",
		"massa",
		"lensgewicht",
	}
	balanceTitles = titles{
		"balance, balance point, centre of gravity, center of gravity, cog, cg, centre of mass, center of mass",
		"schwerpunkt",
		"centre de gravité, point d équilibre",
		"centro de gravedad, punto de equilibrio",
		"baricentro, centro di gravità, punto di equilibrio",
		"zwaartepunt, evenwichtspunt",
	}
)

// Of lenses.
var (
	lensTitles = titles{
		"lens, lenses, lens name, lens model, glass, objective",
		"objektiv, objektive, optik",
		"objectif, objectifs, optique, optiques",
		"objetivo, objetivos, lente, lentes, óptica, ópticas",
		"obiettivo, obiettivi, ottica, ottiche",
		"objectief, objectieven, lenzen",
	}
	ownerTitles = titles{
		"have, status, ownership, owner, owned or hired, own or rent, source",
		"bestand, besitz, besitzer, eigentümer, eigentum",
		"propriétaire, propriété, statut, provenance",
		"propietario, propiedad, procedencia",
		"proprietario, proprietà, provenienza",
		"eigenaar, eigendom, bezit, herkomst",
	}
	rateTitles = titles{
		"day rate, daily rate, rate, price, price per day, price a day, price day, rental, rent, rent per day, hire, hire per day, per day, hire day, rent day, rental day, rate day, day price",
		"tagespreis, tagesmiete, tagessatz, miete, mietpreis, miete pro tag, miete tag, preis, preis pro tag, preis tag, pro tag",
		"prix, prix par jour, prix jour, prix journalier, tarif, tarif jour, tarif journalier, location, location par jour, par jour",
		"precio, precio por día, precio día, precio al día, tarifa, tarifa diaria, alquiler, alquiler por día, alquiler día, por día",
		"prezzo, prezzo al giorno, prezzo giorno, prezzo giornaliero, tariffa, tariffa giornaliera, noleggio, noleggio al giorno, al giorno",
		"prijs, prijs per dag, dagprijs, tarief, dagtarief, huur, huurprijs, huurprijs per dag, huur per dag, per dag",
	}
	termsTitles = titles{
		"hire terms, rental terms, terms",
		"mietbedingungen, bedingungen",
		"conditions de location, conditions",
		"condiciones de alquiler, condiciones",
		"condizioni di noleggio, condizioni",
		"huurvoorwaarden, voorwaarden",
	}
	availableTitles = titles{
		"available, availability, dates",
		"verfügbar, verfügbarkeit",
		"disponible, disponibilité",
		"disponibilidad",
		"disponibile, disponibilità",
		"beschikbaar, beschikbaarheid",
	}
	focalTitles = titles{
		"focal, focal length, focal lengths, focal range, fl, range, zoom range",
		"brennweite, brennweiten, brennweitenbereich, zoombereich",
		"focale, focales, distance focale, longueur focale, plage focale, plage de focales",
		"distancia focal, distancias focales, longitud focal, rango focal",
		"focali, lunghezza focale, distanza focale, escursione focale",
		"brandpunt, brandpuntsafstand, brandpuntsafstanden, brandpuntsbereik, zoombereik",
	}
	engravedTitles = titles{
		"engraved, engraved focal lengths, zoom marks, zoom ring marks, marked focal lengths",
		"gravur, gravierte brennweiten, markierte brennweiten",
		"focales gravées",
		"focales grabadas",
		"focali incise",
		"gegraveerde brandpuntsafstanden",
	}
	apertureTitles = titles{
		"aperture, max aperture, maximum aperture, widest aperture, apertures, aperture range, f stop, f stops, fstop, f number, f no, f, iris, speed, max f stop, widest stop",
		"lichtstärke, blende, blenden, blendenbereich, offenblende, größte blende, max blende, maximale blende, öffnung, größte öffnung, max öffnung, anfangsöffnung, blendenzahl",
		"ouverture, ouvertures, ouverture max, ouverture maxi, ouverture maximale, plus grande ouverture, luminosité, diaphragme, nombre f",
		"apertura, aperturas, apertura máxima, apertura max, abertura, abertura máxima, luminosidad, diafragma, número f",
		"apertura massima, luminosità, diaframma, diaframma massimo, numero f",
		"lichtsterkte, grootste diafragma, max diafragma, maximaal diafragma, opening, grootste opening, maximale opening, f getal",
	}
	tStopTitles = titles{
		"transmission, t stop, t stops, tstop, t number, t no, t, max t stop, widest t stop",
		"t blende, t wert, t zahl",
		"ouverture t, nombre t, t stop max",
		"transmisión, número t, apertura t",
		"trasmissione, numero t, diaframma t",
		"transmissie, t getal, t waarde",
	}
	closeFocusTitles = titles{
		"close focus, closest focus, minimum focus, min focus, min focus distance, minimum focus distance, close focus distance, mfd, mod, cf, cfd, minimum object distance, nearest focus",
		"naheinstellgrenze, naheinstellung, kürzeste naheinstellung, nahgrenze, nahpunkt, min fokus, minimalfokus, kürzeste einstellentfernung, kürzeste entfernung, mindestabstand",
		"mise au point min, mise au point mini, mise au point minimale, mise au point minimum, distance minimale, distance min, distance mini, distance minimale de mise au point, map min, map mini, pmap, point mini, point minimum",
		"enfoque mínimo, enfoque min, foco mínimo, distancia mínima, distancia mínima de enfoque, mínima distancia de enfoque",
		"messa a fuoco minima, fuoco minimo, distanza minima, distanza minima di messa a fuoco, minima distanza di messa a fuoco, maf minima",
		"kortste scherpstelafstand, minimale scherpstelafstand, scherpstelafstand, minimale focusafstand, kortste focusafstand, kortste instelafstand, minimale scherpstelling",
	}
	magnificationTitles = titles{
		"magnification, max magnification, maximum magnification, reproduction ratio, mag",
		"abbildungsmaßstab, größter abbildungsmaßstab, vergrößerung",
		"grandissement, grandissement max, grossissement, rapport de reproduction",
		"ampliación, ampliación máxima, magnificación, relación de reproducción",
		"ingrandimento, ingrandimento massimo, rapporto di riproduzione",
		"vergroting, maximale vergroting, afbeeldingsschaal, reproductieschaal",
	}
	pupilTitles = titles{
		"pupil, entrance pupil, entrance pupil position, no parallax point, entrance pupil to sensor",
		"eintrittspupille, pupille, lage der eintrittspupille, nodalpunkt",
		"pupille d entrée, point nodal",
		"pupila de entrada, punto nodal",
		"pupilla d ingresso, pupilla di ingresso, punto nodale",
		"intredepupil, nodaal punt",
	}
	breathingTitles = titles{
		"breathing, focus breathing",
		"pumpen, fokusatmung, focus breathing",
		"pompage, respiration",
		"respiración, respiración de foco",
		"respirazione, respirazione del fuoco",
		"ademen, focusademen",
	}
	circleTitles = titles{
		"circle, image circle, image circle diameter, ic",
		"bildkreis, bildkreisdurchmesser",
		"cercle image, cercle d image, cercle de couverture, couverture",
		"círculo de imagen, círculo imagen, círculo de cobertura, cobertura",
		"cerchio immagine, cerchio d immagine, cerchio di copertura, copertura",
		"beeldcirkel",
	}
	projectionTitles = titles{"projection", "projektion", "type de projection", "proyección", "proiezione", "projectie"}
	squeezeTitles    = titles{
		"squeeze, squeeze factor, anamorphic, anamorphic squeeze, anamorphic factor",
		"stauchung, stauchfaktor, anamorphot, anamorphotisch",
		"anamorphose, facteur d anamorphose, anamorphique",
		"anamorfosis, factor anamórfico, anamórfico",
		"anamorfosi, fattore anamorfico, anamorfico",
		"anamorfose, anamorfisch, squeezefactor",
	}
	focusTitles = titles{
		"focus, focus type, focusing, focussing, af mf, autofocus, af",
		"fokus, fokusart, fokussierung, scharfstellung",
		"mise au point, type de mise au point",
		"enfoque, tipo de enfoque",
		"messa a fuoco, tipo di messa a fuoco, fuoco",
		"scherpstelling",
	}
	scaleTitles = titles{
		"scale, focus scale, distance scale, focus marks",
		"skala, fokusskala, entfernungsskala",
		"échelle, échelle des distances, échelle de distances",
		"escala, escala de distancias, escala de enfoque",
		"scala, scala delle distanze, scala distanze",
		"schaal, afstandsschaal",
	}
	lengthTitles = titles{
		"length, len, l",
		"länge, baulänge, gesamtlänge",
		"longueur",
		"longitud, largo",
		"lunghezza",
		"lengte",
	}
	diameterTitles = titles{
		"diameter, dia, front diameter, front dia, front, od, front od, outer diameter, max diameter, ø, front ø, ø front",
		"durchmesser, frontdurchmesser, außendurchmesser",
		"diamètre, diamètre avant, diamètre frontal, diamètre extérieur, ø avant",
		"diámetro, diámetro exterior, frontal, ø frontal",
		"diametro, diametro frontale, diametro esterno, frontale, ø frontale",
		"frontdiameter, buitendiameter, voordiameter",
	}
	threadTitles = titles{
		"thread, filter thread, filter, filters, filter size, filter ø, filter diameter, ø filter, front thread, screw in filter",
		"gewinde, filtergewinde, filterdurchmesser, filtergröße",
		"filetage, filetage filtre, filtre, filtres, diamètre filtre, diamètre de filtre, diamètre du filtre, ø filtre, pas de vis",
		"rosca, rosca de filtro, rosca filtro, filtro, filtros, diámetro filtro, diámetro de filtro, diámetro del filtro, ø filtro",
		"filettatura, filettatura filtro, filettatura filtri, filtri, diametro filtro, diametro filtri, passo filtri",
		"schroefdraad, filterdraad, filtermaat, filterdiameter",
	}
	distortionTitles = titles{"distortion", "verzeichnung", "distorsion", "distorsión", "distorsione", "vertekening, distorsie"}
	falloffTitles    = titles{
		"falloff, fall off, light fall off, light falloff, vignetting, shading",
		"vignettierung, randabfall, lichtabfall",
		"vignettage, vignetage, chute de lumière",
		"viñeteo, viñeteado, caída de luz",
		"vignettatura, caduta di luce",
		"vignettering, lichtafval",
	}
)

// Of cameras.
var (
	cameraTitles = titles{
		"camera, cameras, camera name, camera body, body",
		"kamera, kameras, kamerabody, gehäuse",
		"caméra, boîtier, appareil",
		"cámara, cuerpo, cuerpo de cámara",
		"macchina, corpo macchina, cinepresa",
		"camerabody, camerahuis",
	}
	modeTitles = titles{
		"mode, sensor mode, recording mode",
		"modus, sensormodus, aufnahmemodus",
		"mode capteur, mode d enregistrement",
		"modo, modo de sensor, modo de grabación",
		"modalità, modalità sensore",
		"opnamemodus",
	}
	pixelsTitles = titles{
		"mode pixels, recorded pixels, pixel dimensions",
		"aufnahmepixel, bildpunkte der aufnahme, pixelmaße",
		"pixels enregistrés, dimensions en pixels",
		"píxeles grabados, dimensiones en píxeles",
		"pixel registrati, dimensioni in pixel",
		"opgenomen pixels, afmetingen in pixels",
	}
	sensorTitles = titles{
		"sensor, sensor size, size, frame, frame size, gate, imager",
		"sensorgröße, sensormaße, sensorabmessungen",
		"capteur, taille du capteur, taille capteur, dimensions du capteur",
		"tamaño del sensor, tamaño de sensor, tamaño sensor",
		"sensore, dimensioni sensore, dimensioni del sensore, dimensione sensore",
		"sensormaat, sensorgrootte, sensorafmetingen",
	}
	sensorWidthTitles = titles{
		"sensor width, width", "sensorbreite, breite", "largeur du capteur, largeur capteur, largeur",
		"ancho del sensor, ancho sensor, ancho", "larghezza sensore, larghezza del sensore, larghezza", "sensorbreedte, breedte",
	}
	sensorHeightTitles = titles{
		"sensor height, height", "sensorhöhe, höhe", "hauteur du capteur, hauteur capteur, hauteur",
		"alto del sensor, alto sensor, alto", "altezza sensore, altezza del sensore, altezza", "sensorhoogte, hoogte",
	}
	isoTitles = titles{
		"iso, base iso, native iso, dual iso, dual native iso, ei, base ei, asa",
		"basis iso, nativer iso, iso nativ, nativ iso",
		"iso natif, iso natifs, iso de base, sensibilité",
		"iso base, iso nativo, iso nativos, sensibilidad",
		"iso nativi, sensibilità",
		"iso basis, native iso waarde, gevoeligheid",
	}
	isoRangeTitles  = titles{"iso range, usable iso, ei range, iso min max", "iso bereich", "plage iso", "rango iso", "intervallo iso, gamma iso", "iso bereik"}
	builtInNDTitles = titles{
		"built in nd, builtin nd, internal nd, nd, nds, nd filters",
		"interner nd, interne nd, eingebaute nd, eingebaute nd filter",
		"nd intégré, nd intégrés, nd internes, filtres nd",
		"nd integrado, nd integrados, nd interno, nd internos, filtros nd",
		"nd integrati, nd interni, filtri nd",
		"ingebouwde nd, ingebouwde nd filters",
	}
	autofocusTitles    = titles{"autofocus, af", "autofokus", "mise au point automatique", "autofoco, enfoque automático", "messa a fuoco automatica", "automatische scherpstelling"}
	cameraLengthTitles = titles{
		"length, depth", "länge, tiefe", "longueur, profondeur",
		"longitud, largo, profundidad", "lunghezza, profondità", "lengte, diepte",
	}
	balanceHeightTitles = titles{
		"balance height, height of centre of gravity, cog height", "schwerpunkthöhe", "hauteur du centre de gravité",
		"altura del centro de gravedad", "altezza del baricentro", "hoogte van het zwaartepunt",
	}
	axisHeightTitles = titles{
		"axis height, lens axis height, optical axis height, lens height", "achshöhe, höhe der optischen achse", "hauteur de l axe optique",
		"altura del eje óptico", "altezza dell asse ottico", "hoogte van de optische as",
	}
)

// Of filters.
var (
	filterTitles = titles{
		"filter, filters, filter name", "filtername", "filtre, filtres", "filtro, filtros", "filtri", "filternaam",
	}
	filterKindTitles = titles{
		"kind, type, filter type, filter kind", "art, filterart, typ, filtertyp", "type de filtre, genre",
		"tipo, tipo de filtro", "tipo di filtro", "soort, filtertype, soort filter",
	}
	filterThreadTitles = titles{
		"thread, filter thread, size, filter size, diameter, ø",
		"gewinde, filtergewinde, größe, filtergröße, durchmesser",
		"filetage, taille, diamètre, diamètre de filtre",
		"rosca, tamaño, diámetro",
		"filettatura, misura, diametro",
		"schroefdraad, draad, maat, filtermaat",
	}
	frontThreadTitles = titles{
		"front thread, front, outer thread, to", "frontgewinde, außengewinde", "filetage avant", "rosca frontal", "filettatura frontale", "voordraad",
	}
	strengthTitles = titles{
		"strength, stops, density, nd, grade", "stärke, dichte", "densité, force", "densidad, fuerza", "densità, forza", "dichtheid, sterkte",
	}
)

// Of shots.
var (
	shotTitles = titles{
		"shot, shots, shot no, shot number, shot id, setup, set up, slate",
		"einstellung, einstellungen, einstellungsnr, einstellungsnummer, einstellung nr",
		"plan, plans, n plan, no plan, n de plan, numéro de plan, numéro du plan",
		"plano, planos, n plano, nº plano, n de plano, nº de plano, núm plano, número de plano, toma",
		"inquadratura, inquadrature, n inquadratura, n inquadratura, numero inquadratura",
		"opname, opnames, shotnr, shotnummer, opnamenummer",
	}
	shotSceneTitles = titles{
		"scene, scenes, sc, scene no, scene number, sc no",
		"szene, bild, szenennr, szenennummer, bildnummer, szene nr, bild nr",
		"scène, séquence, seq, n scène, n séquence, n de scène, n de séquence, numéro de scène",
		"escena, secuencia, esc, n escena, nº escena, n de escena, número de escena",
		"scena, sequenza, n scena, n scena, numero scena",
		"scènenummer, scènenr, scene nr",
	}
	shotActionTitles = titles{
		"description, action, content, what happens, shot description, title",
		"beschreibung, inhalt, handlung, aktion, bildinhalt",
		"description du plan, contenu, descriptif, action du plan",
		"descripción, acción, contenido",
		"descrizione, azione, contenuto",
		"omschrijving, beschrijving, handeling, actie, inhoud",
	}
	headingTitles = titles{
		"heading, scene heading, slug, slugline",
		"szenenüberschrift, bildüberschrift, szenenkopf",
		"en tête, entête, intitulé de scène",
		"encabezado, encabezado de escena",
		"intestazione, intestazione scena, intestazione di scena",
		"scènekop, kop, kopregel",
	}
	subjectTitles = titles{
		"subject, subjects, who, what, character, characters, cast",
		"motiv, figur, figuren, person, personen, wer",
		"sujet, personnage, personnages, qui",
		"sujeto, personaje, personajes, quién",
		"soggetto, personaggio, personaggi, chi",
		"onderwerp, personage, personages, wie",
	}
	framingTitles = titles{
		"frame, framing, size, shot size, frame size, shot type, field size",
		"einstellungsgröße, bildgröße, größe, ausschnitt",
		"cadrage, cadre, valeur, valeur de plan, échelle de plan, échelle, grosseur de plan",
		"encuadre, tamaño, tamaño de plano, tipo de plano, valor de plano",
		"campo, taglio, tipo di inquadratura, grandezza",
		"kader, kadrering, uitsnede, beeldgrootte, shotgrootte",
	}
	distanceTitles = titles{
		"distance, distances, subject distance, camera distance, dist",
		"abstand, entfernung, distanz, kameraabstand, motivabstand",
		"distance sujet, distance du sujet, distance caméra",
		"distancia, distancia al sujeto, distancia de cámara",
		"distanza, distanza soggetto, distanza dal soggetto",
		"afstand, cameraafstand, afstand tot onderwerp",
	}
	moveTitles = titles{
		"move, moves, movement, camera movement, camera move, motion",
		"bewegung, kamerabewegung, fahrt",
		"mouvement, mouvements, mouvement de caméra, mouvement caméra",
		"movimiento, movimientos, movimiento de cámara",
		"movimento, movimenti, movimento di macchina, movimento macchina, movimento camera",
		"beweging, camerabeweging",
	}
	lightTitles = titles{
		"light, light level, lighting, illuminance",
		"licht, beleuchtung, beleuchtungsstärke, lichtstärke",
		"lumière, éclairage, éclairement, niveau de lumière",
		"luz, iluminación, nivel de luz",
		"luce, illuminazione, livello di luce",
		"lichtniveau, belichting, verlichting",
	}
	pullerTitles = titles{
		"focus, focus pull, focus puller",
		"fokus, schärfe, schärfenführung",
		"point, mise au point, suivi de point",
		"foco, enfoque",
		"fuoco, messa a fuoco",
		"scherpte, scherpstelling",
	}
	supportTitles = titles{
		"support, camera support, held by, rig, equipment",
		"stativ, kamerastütze, gerät",
		"machinerie, support caméra",
		"soporte, equipo",
		"supporto, attrezzatura",
		"ondersteuning, statief",
	}
	weightTitles = titles{
		"weight, priority, importance", "gewichtung, priorität, wichtigkeit", "priorité, poids, importance du plan",
		"prioridad, peso, importancia", "priorità, importanza", "prioriteit, belang",
	}
	backgroundTitles = titles{
		"background, background distance", "hintergrund, abstand hintergrund, hintergrundabstand", "fond, arrière plan, distance du fond",
		"fondo, distancia al fondo", "sfondo, distanza sfondo, distanza dello sfondo", "achtergrond, afstand achtergrond",
	}
	passageTitles = titles{
		"passage, narrowest place, narrowest", "engstelle, durchgang", "passage le plus étroit, largeur du passage",
		"paso, paso más estrecho", "passaggio, passaggio più stretto", "doorgang, smalste doorgang",
	}
	shotRateTitles = titles{
		"rate, frame rate, fps", "bildrate, bildfrequenz, bilder pro sekunde", "cadence, images par seconde, im s",
		"cadencia, fotogramas por segundo", "cadenza, fotogrammi al secondo", "beeldsnelheid, beelden per seconde",
	}
	shotLensTitles = titles{
		"lens, lenses, focal, focal length", "objektiv, brennweite, optik", "objectif, optique, focale",
		"objetivo, óptica, focal, lente", "obiettivo, ottica, focale", "objectief, brandpuntsafstand",
	}
	shotNotesTitles = titles{
		"notes, note, remarks, remark, comments, comment, info",
		"bemerkung, bemerkungen, notiz, notizen, anmerkung, anmerkungen, hinweis, hinweise, kommentar",
		"remarque, remarques, commentaire, commentaires, observation, observations",
		"nota, notas, observación, observaciones, comentario, comentarios",
		"osservazione, osservazioni, commento, commenti, annotazioni",
		"opmerking, opmerkingen, notitie, notities, toelichting, bijzonderheden",
	}
)
