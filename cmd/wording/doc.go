// Package wording says in words what the engine answers, so that the terminal and the
// report say it alike.
package wording
