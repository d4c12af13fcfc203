package brief

import (
	"fmt"
	"slices"
	"strings"

	"glassbrief/engine/exposure"
	"glassbrief/lang"
)

// scenesNamed bounds the scenes that a message lists.
const scenesNamed = 8

// CheckScript compares the shots with the script that the scenario names, in Fountain: a
// scene that the script lacks is an error; a heading that is no longer what a shot has
// pinned, scenes without a shot, and light that the setting makes improbable are
// warnings. A scenario without a script has none of these.
func CheckScript(s *Scenario, files Files) lang.Diagnostics {
	if s.Script.Value == "" {
		return nil
	}
	l := newLoader(files, nil)
	if src := l.open(s.Script, lang.OfFile); src != nil {
		scenes, found := l.files.Budget.Scenes(src)
		if l.found = append(l.found, found...); found == nil {
			c := &scriptCheck{Scenario: s, scenes: scenes, covered: map[string]bool{}, report: l.report}
			c.run()
		}
	}
	return l.found.Sorted()
}

type scriptCheck struct {
	*Scenario
	scenes  []lang.Scene
	numbers []string        // of the scenes that have one
	covered map[string]bool // by the number of the scene, or its heading
	report  func(lang.Diagnostic)
}

func (c *scriptCheck) warn(code lang.Code, span lang.Span, summary, detail string, related ...lang.Related) {
	c.report(lang.Diagnostic{Severity: lang.Warning, Code: code, Span: span, Summary: summary, Detail: detail, Related: related})
}

func (c *scriptCheck) run() {
	if len(c.scenes) == 0 {
		c.report(NoScenes(c.Script.Span, lang.Warning))
		return
	}
	c.number()
	for _, shot := range c.Shots {
		switch scene := c.find(shot); {
		case scene != nil:
			c.covered[nameOf(scene)] = true
			c.heading(shot, scene)
			c.light(shot, scene)
		case len(c.numbers) > 0 && shot.Scene != "":
			c.missing(shot)
		case shot.Heading.Value != "":
			c.noHeading(shot)
		}
	}
	if len(c.numbers) == 0 && !c.allFound() {
		c.warn(lang.MissingField, c.Script.Span, "the script numbers no scene, so that the scenes of the shots cannot be looked up",
			"Number the scenes, as: INT. CAR DECK - NIGHT #4#. Or name each scene by its heading, as: scene \"INT. CAR DECK - NIGHT\"")
		return
	}
	c.withoutShot()
}

// number gathers the scene numbers, and reports those that stand twice.
func (c *scriptCheck) number() {
	first := map[string]*lang.Scene{}
	for i := range c.scenes {
		scene := &c.scenes[i]
		switch earlier := first[scene.Number]; {
		case scene.Number == "":
		case earlier != nil:
			c.warn(lang.DuplicateName, scene.Span, fmt.Sprintf("two scenes of the script are numbered %q", scene.Number),
				"Shots of that scene are compared with the first.", lang.Related{Span: earlier.Span, Note: "the first one is here"})
		default:
			first[scene.Number] = scene
			c.numbers = append(c.numbers, scene.Number)
		}
	}
}

// find gives the scene of a shot: by its number, by its heading in place of a number, or,
// when it names no scene, by its pinned heading.
func (c *scriptCheck) find(shot *Shot) *lang.Scene {
	for _, same := range []func(*lang.Scene) bool{
		func(scene *lang.Scene) bool { return shot.Scene != "" && scene.Number == shot.Scene },
		func(scene *lang.Scene) bool { return shot.Scene != "" && lang.SameHeading(scene.Heading, shot.Scene) },
		func(scene *lang.Scene) bool {
			unnamed := shot.Scene == "" || len(c.numbers) == 0
			return unnamed && shot.Heading.Value != "" && lang.SameHeading(scene.Heading, shot.Heading.Value)
		},
	} {
		for i := range c.scenes {
			if same(&c.scenes[i]) {
				return &c.scenes[i]
			}
		}
	}
	return nil
}

// allFound reports whether every shot that names a scene has one.
func (c *scriptCheck) allFound() bool {
	return !slices.ContainsFunc(c.Shots, func(shot *Shot) bool { return shot.Scene != "" && c.find(shot) == nil })
}

func (c *scriptCheck) missing(shot *Shot) {
	d := noScene(shot.Scene, c.numbers, shot.sceneSpan, lang.Error)
	for i := range c.scenes {
		// Scenes are renumbered more often than renamed.
		if scene := &c.scenes[i]; shot.Heading.Value != "" && scene.Number != "" && lang.SameHeading(scene.Heading, shot.Heading.Value) {
			d.Instead = scene.Number
			d.Related = []lang.Related{{Span: scene.Span, Note: "its heading stands here now"}}
			break
		}
	}
	c.report(d)
}

func noScene(number string, numbers []string, span lang.Span, severity lang.Severity) lang.Diagnostic {
	return lang.Diagnostic{
		Severity: severity, Code: lang.UnknownName, Span: span, Summary: fmt.Sprintf("the script has no scene %q", number),
		Detail: fmt.Sprintf("It has %s.", namedScenes(numbers)), Instead: lang.NearestSceneNumber(number, numbers),
	}
}

func (c *scriptCheck) noHeading(shot *Shot) {
	var headings []string
	for _, scene := range c.scenes {
		headings = append(headings, scene.Heading)
	}
	c.report(lang.Diagnostic{
		Severity: lang.Warning, Code: lang.UnknownName, Span: shot.Heading.Span,
		Summary: fmt.Sprintf("the script has no scene with the heading %q", shot.Heading.Value),
		Detail:  "Its heading may have changed; look the scene up and pin the heading that it has now.",
		Instead: lang.Nearest(shot.Heading.Value, headings),
	})
}

// heading says when the heading of a scene is no longer the one that a shot has pinned.
func (c *scriptCheck) heading(shot *Shot, scene *lang.Scene) {
	if shot.Heading.Value == "" || lang.SameHeading(shot.Heading.Value, scene.Heading) {
		return
	}
	c.report(lang.Diagnostic{
		Severity: lang.Warning, Code: lang.Contradiction, Span: shot.Heading.Span,
		Summary: fmt.Sprintf("the heading of the scene is %q now", scene.Heading),
		Detail:  "Look whether place, light and move of the shot still hold, then pin the new heading.",
		Instead: lang.Quote(scene.Heading),
		Related: []lang.Related{{Span: scene.Span, Note: "it stands here"}},
	})
}

// withoutShot lists the scenes that no shot names.
func (c *scriptCheck) withoutShot() {
	var without []string
	for i := range c.scenes {
		if name := nameOf(&c.scenes[i]); !c.covered[name] {
			without = append(without, name)
			c.covered[name] = true // listed once
		}
	}
	if len(without) > 0 {
		c.warn(lang.MissingField, c.Script.Span, fmt.Sprintf("no shot covers %s", namedScenes(without)),
			"Add shots, or take this as a reminder of what is left to plan.")
	}
}

// namedScenes lists scenes for a message.
func namedScenes(scenes []string) string {
	quoted := make([]string, 0, scenesNamed)
	for _, scene := range scenes[:min(len(scenes), scenesNamed)] {
		quoted = append(quoted, fmt.Sprintf("%q", scene))
	}
	list := strings.Join(quoted, ", ")
	switch n := len(scenes); {
	case n == 1:
		return "scene " + list
	case n > scenesNamed:
		return fmt.Sprintf("%d scenes: %s and so on", n, list)
	}
	return "scenes " + lang.QuotedAll(scenes)
}

// nameOf gives what a scene goes by.
func nameOf(scene *lang.Scene) string {
	if scene.Number == "" {
		return scene.Heading
	}
	return scene.Number
}

// light says when the light of a shot is improbable for the setting of its scene. It is a
// hint: lamps make light at night and take none away by day, so that what is judged lies
// well beyond the published levels of such places.
func (c *scriptCheck) light(shot *Shot, scene *lang.Scene) {
	if !shot.Metered() || slices.ContainsFunc(shot.Readings, func(r Reading) bool { return r.Sun != nil }) {
		return
	}
	outside, hour := scene.Outside && !scene.Inside, scene.Hour()
	var least, most string // levels of the published lists
	switch {
	case outside && hour == lang.AtNight:
		most = "bright-street"
	case outside && hour == lang.BetweenDayAndNight:
		most = "overcast"
	case outside && hour == lang.ByDay:
		least = "sunrise"
	case hour == lang.AtNight:
		most = "overcast"
	}
	hint := func(than string, limit float64, name string) {
		c.warn(lang.Improbable, shot.lightSpan,
			fmt.Sprintf("the light is %s than %q, %.0f lx, and the scene is %q", than, name, limit, scene.Heading),
			"Check the light, or the number of the scene. It is right when lamps are planned for it.",
			lang.Related{Span: scene.Span, Note: "the scene is here"})
	}
	if level, ok := exposure.NamedLevel(most); ok && shot.Light > level.Lux {
		hint("brighter", level.Lux, most)
	}
	if level, ok := exposure.NamedLevel(least); ok && shot.Light < level.Lux {
		hint("darker", level.Lux, least)
	}
}
