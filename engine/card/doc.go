// Package card is the table of what a card says. Each value of a set-up has one row, with
// its key for programs, its unit for people and its line on the card. Text, HTML, Markdown,
// JSON, CSV and schema are made from the rows. The words for people are in cmd/wording.
package card
