// Package engine answers which lenses to bring.
//
// Package brief reads a scenario and the catalogues it names into a [brief.Scenario].
// [Judge] judges every lens in every shot by the rules and gives a [Table], from which
// [Table.Choose] chooses the kit. [Recommend] does both and explains the answer. Data flows
// one way:
//
//	text -> syntax -> scenario + catalogue -> facts -> judgements -> ranking -> kit
//
// Quantities are float64 in SI units throughout. What a catalogue does not say is
// unknown, stays visible as such, and never counts as zero.
//
// The computation is that of a thin lens with the figures of the catalogue. It is no
// lens test, and the production's risk assessment, local codes and licensed practice
// come before anything it says about a move.
package engine
