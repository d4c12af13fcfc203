package brief

// Prices are what minutes and money weigh against scores where a kit is chosen.
type Prices struct {
	Change float64 // score of a shot of weight 1 for a minute of changes of set-up, 0 or more
	Crew   float64 // money that a minute of the crew costs; 0 where nobody says, and money then only decides between equals
}

// UsualChangePrice holds unless the scenario or the settings say otherwise: 4.5 minutes there
// and back must lift a shot by 9 hundredths (an assumption of this project).
const UsualChangePrice = 0.01

// Money gives the score of a shot of weight 1 for a unit of money; 0 where money only decides
// between equals.
func (p Prices) Money() float64 {
	if p.Crew == 0 {
		return 0
	}
	return p.Change / p.Crew
}

const minute = 60 // s

// PossibleCrew reports whether a minute of a crew can cost so much, in money a second.
func PossibleCrew(cost float64) bool {
	const rounding = 1e-9
	return cost*minute >= 0.01*(1-rounding) && cost*minute <= 1e6*(1+rounding)
}

// prices gives those of the scenario, or else of the settings.
func (l *loader) prices() Prices {
	h := &l.doc.Scenario
	price, crew := h.ChangePrice, h.Crew
	if !price.Known() {
		price = l.files.House.ChangePrice
	}
	if !crew.Known() {
		crew = l.files.House.Crew
	}
	return Prices{Change: price.Or(UsualChangePrice), Crew: crew.Or(0) * minute}
}
