package days

// Keep holds shots where a plan has them, such as those of days that are over or published: each is done on
// its day, by its unit, with its set-up and at its time, or left out. Other shots may come between them.
func (p *Problem) Keep(runs []Run) {
	for _, run := range runs {
		for _, stop := range run.Stops {
			shot := &p.Shots[stop.Shot]
			shot.Days = []int{run.Day}
			shot.Windows = []Span{{stop.Start, stop.Start + shot.Takes}}
			shot.Free = Everywhere
			var options []Option
			for _, o := range shot.Options {
				if o.Unit == run.Unit && o.Setup == stop.Setup {
					options = append(options, o)
				}
			}
			shot.Options = options
		}
	}
}
