package lang

// A Code names one kind of diagnostic. Codes are stable: tests and JSON use them,
// people read the text beside them.
type Code string

// The codes of every layer. [Codes] lists each with its meaning.
const (
	TooLarge          Code = "too-large"
	NotText           Code = "not-text"
	LineTooLong       Code = "line-too-long"
	TooDeep           Code = "too-deep"
	NewerEdition      Code = "newer-edition"
	InvalidCharacter  Code = "invalid-character"
	UnclosedText      Code = "unclosed-text"
	UnclosedBlock     Code = "unclosed-block"
	UnexpectedText    Code = "unexpected-text"
	UnknownKeyword    Code = "unknown-keyword"
	UnknownWord       Code = "unknown-word"
	UnknownUnit       Code = "unknown-unit"
	UnknownName       Code = "unknown-name"
	MissingUnit       Code = "missing-unit"
	MissingValue      Code = "missing-value"
	MissingField      Code = "missing-field"
	ExtraValue        Code = "extra-value"
	WrongKind         Code = "wrong-kind"
	WrongDimension    Code = "wrong-dimension"
	BadNumber         Code = "bad-number"
	BadInterval       Code = "bad-interval"
	OutOfRange        Code = "out-of-range"
	Improbable        Code = "improbable"
	DuplicateField    Code = "duplicate-field"
	DuplicateName     Code = "duplicate-name"
	Contradiction     Code = "contradiction"
	ExpressionTooLong Code = "expression-too-long"
	BadExpression     Code = "bad-expression"
	NotAllowed        Code = "not-allowed"
	WrongResult       Code = "wrong-result"
	UnreadableFile    Code = "unreadable-file"
	OutsideTree       Code = "outside-tree"
	ExpectationBroken Code = "expectation-broken"
	FramingList       Code = "framing-list"
	Upkeep            Code = "upkeep"
	UnfinishedMerge   Code = "unfinished-merge"
	InternalFault     Code = "internal-fault"
)

// CodeMeaning is one row of the table of codes.
type CodeMeaning struct {
	Code    Code
	Meaning string
}

// Codes gives the table of all codes in the order in which a reader meets them.
// It is the one list that documentation, JSON and tests share.
func Codes() []CodeMeaning {
	return []CodeMeaning{
		{TooLarge, "a file holds more than one may, or the run reads more than its budget"},
		{NotText, "a file is not UTF-8 text"},
		{LineTooLong, "a line holds more bytes than the limit"},
		{TooDeep, "blocks or brackets are nested past the limit"},
		{NewerEdition, "a file is of an edition of the language that the program does not know"},
		{InvalidCharacter, "a character that the language does not use"},
		{UnclosedText, "a quoted text has no closing quote on its line"},
		{UnclosedBlock, "a block has no closing brace"},
		{UnexpectedText, "something stands where something else must stand"},
		{UnknownKeyword, "a statement begins with a word that has no meaning in its block"},
		{UnknownWord, "a word is not one of those that the field takes"},
		{UnknownUnit, "a unit is not in the table of units"},
		{UnknownName, "a name of a fact, lens, camera, rig, shot or function is not defined"},
		{MissingUnit, "a quantity has no unit"},
		{MissingValue, "a field lacks a value"},
		{MissingField, "a block lacks a field that it must have"},
		{ExtraValue, "a field has more values than it takes"},
		{WrongKind, "a value is of another kind than the field takes"},
		{WrongDimension, "a quantity or an operation mixes dimensions, as a mass with a length"},
		{BadNumber, "a number is not written as the language writes numbers"},
		{BadInterval, "an interval runs backwards or has no end at all"},
		{OutOfRange, "a value is outside what is physically or formally possible"},
		{Improbable, "a value is possible but unlikely (a warning)"},
		{DuplicateField, "a field is given twice"},
		{DuplicateName, "two things of one kind have one name"},
		{Contradiction, "two statements cannot both hold"},
		{ExpressionTooLong, "an expression holds more bytes than the limit"},
		{BadExpression, "an expression cannot be read"},
		{NotAllowed, "an expression uses a construct that rules may not use"},
		{WrongResult, "an expression gives another kind of result than its place needs"},
		{UnreadableFile, "a file cannot be read"},
		{OutsideTree, "a file lies outside the folder that the scenario may read"},
		{ExpectationBroken, "an expect statement does not hold"},
		{FramingList, "a Framing Decision List is not as its standard has it, or differs from the scenario"},
		{Upkeep, "something in a catalogue is not in order (a warning)"},
		{UnfinishedMerge, "two versions of a file change the same, and both stand in it"},
		{InternalFault, "the program met a state that it should never meet"},
	}
}
