// Package schedule plans the days of a scenario: it states what the scenario asks for as a
// [days.Problem], and says the plan that comes back in shots, lenses, places and hours.
//
// Each unit judges every lens with its own camera and rig. What a change of set-up takes comes
// from the rig, by [engine.Table.Trim], and depends on its two set-ups and the bag alone.
package schedule
