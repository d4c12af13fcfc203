// Package brief reads what must be shot and with what equipment.
//
// [Load] reads the text of a scenario and the files that it names, reports every fault with
// its place, and resolves all names into a [Scenario]: shots, limits, catalogue and rules.
// [CheckScript] compares it with a script. Nothing here judges a lens.
//
// Quantities are float64 in SI units. NaN means that the scenario does not say.
package brief
