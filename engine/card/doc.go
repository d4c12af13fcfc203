// Package card is what a card says of how a shot is set up: each value has one row here,
// with the key, the unit and the line of the card that it belongs to. What people and
// programs read is made from the rows; this package has no words for people.
package card
