package brief

import "glassbrief/lang"

// document is what a .scenario file says, as the decoder finds it. Each field's comment
// is its entry in the language reference.
type document struct {
	// Catalogues to read, by path from the scenario's own folder, or "demo" for the
	// built-in demo catalogue.
	Uses []use `lang:"use,own"`
	// What holds for all shots.
	Scenario header `lang:"scenario,required"`
	// The shots, in shooting order.
	Shots []shotBlock `lang:"shot"`
	// What the recommendation must be; "check" fails when it is not.
	Expects []expectation `lang:"expect,own"`
}

// use is a catalogue: the word demo, or a path.
type use struct {
	Demo bool
	Path lang.Text
}

// DecodeArgs reads the value of "use".
func (u *use) DecodeArgs(args *lang.Args) {
	if args.PeekText() {
		u.Path = args.Text()
		return
	}
	u.Demo = args.Word("demo").Value == "demo"
}

// header is the scenario block.
type header struct {
	// Name of the production or the part of it.
	Name lang.Text `lang:",label"`
	// The script that the scenes refer to, by path from the scenario's own folder.
	Script lang.Text `lang:"script"`
	// The units that work side by side, each with its camera, mode, rig and carry where they
	// are others than those of the scenario: "unit "B" camera "House body C" rig "Long sled"
	// carry 1 lens". One alone names the unit of the production that the cards are for, as
	// "second unit"; it stands at their foot.
	Units []unitLine `lang:"unit,possible=1..6"`
	// Candidate cameras; the first is the plan.
	Cameras []lang.Text `lang:"camera,required"`
	// Sensor mode of the camera; its first mode unless given.
	Mode lang.Text `lang:"mode"`
	// The stabiliser.
	Rig lang.Text `lang:"rig,required"`
	// How many lenses go in the bag; 2 unless given. Beyond 6 nobody chooses: they bring the case.
	Carry lang.Quantity `lang:"carry,dim=plain,noun=lenses|lens,possible=1..6"`
	// Delivered aspect ratio; the sensor's own unless given.
	Deliver lang.Ratio `lang:"deliver,usual=1:3..4,possible=1:20..20"`
	// Further aspect ratios that are delivered of the same pictures: they must be lit, and are
	// drawn and written beside the first, which is the one that is judged.
	Also []lang.Ratio `lang:"also,usual=1:3..4,possible=1:20..20"`
	// Share of the frame in the finder that is kept free around the delivered one, as 10%:
	// room to move and to stabilise the picture. All shares, angles and distances are then of
	// the delivered frame, and the lens must light the protected one. None unless given.
	Protect lang.Quantity `lang:"protect,dim=plain,usual=0%..30%,possible=0%..50%"`
	// What the delivered frames have in common: "top" puts all to the top of the tallest, so
	// that heads stay in every one; all stand in the middle unless given.
	Common lang.Word `lang:"common,words=top"`
	// Where the top left of the delivered frame stands, in pixels of the mode across and down,
	// as "222 x 547"; in the middle unless given.
	Anchor lang.Size `lang:"anchor,dim=plain,possible=0..65536"`
	// A Framing Decision List, by path from the scenario's own folder, that says which frame is
	// delivered, with the intent and the canvas of it where it has several, as "framing
	// "unit.fdl" intent "FI_239" canvas "CVS_OCF"". Ratio, protection, place and squeeze are
	// then those of the list, and "check" says where the scenario has them otherwise.
	Framing framingUse `lang:"framing,own"`
	// Squeeze of all glass of a production that is shot anamorphic throughout, as 1.33:
	// lenses of another are out. Without it, any glass may come.
	Squeeze lang.Ratio `lang:"squeeze,usual=1..2,possible=0.25..4"`
	// Frame rate; 24fps unless given.
	Rate lang.Quantity `lang:"rate,dim=rate,usual=1fps..2000fps,possible=0.001fps..100000fps"`
	// Shutter angle; 180deg unless given.
	Shutter lang.Quantity `lang:"shutter,dim=angle,usual=2deg..360deg,possible=0.01deg..360deg"`
	// Highest ISO to use; the camera's own unless given.
	ISO lang.Quantity `lang:"iso,dim=plain,usual=25..1000000,possible=1..100000000"`
	// Circle of confusion; diagonal/1500 of the delivered frame unless given.
	Confusion lang.Quantity `lang:"confusion,dim=length,usual=2um..100um,possible=0.1um..1mm"`
	// Mass on the rig beside camera and lens: monitor, battery, plate. Behind it, where its
	// centre of mass is, behind the flange and above the camera's base, as "350g 60mm x
	// 120mm"; without, the rig's trim cannot be solved.
	Accessories Accessories `lang:"accessories,usual=0kg..10kg|-500mm..500mm,possible=0kg..50kg|-2m..2m"`
	// Drop time that the rig is trimmed to; 1.5s..2s unless given.
	Drop lang.Interval `lang:"drop,dim=time,usual=0.5s..6s,possible=0.1s..60s"`
	// Ceiling for hired glass, per day; without it, hired lenses count as any other.
	Rent lang.Quantity `lang:"rent,dim=money,possible=0..1000000000"`
	// What a minute of changes of set-up is worth where a kit is chosen, and the lens that is put
	// on for each shot: the score of one shot of weight 1, taken from the sum of all shots; 0.01
	// unless given. Such changes are those of lens, adapter, filters and low mode, onto legs and
	// back, with the new balance. With 0 they count for nothing.
	ChangePrice lang.Quantity `lang:"change_price,dim=plain,usual=0..0.1,possible=0..1"`
	// What a minute of the whole crew costs, as "6 EUR/min": hire then weighs against minutes by
	// it, through "change_price". Without it, hire decides only between kits that are else alike.
	Crew lang.Quantity `lang:"crew,dim=wage,usual=0.2 EUR/min..2000 EUR/min,possible=0.01 EUR/min..1000000 EUR/min"`
	// Heaviest bag of lenses.
	Bag lang.Quantity `lang:"bag,dim=mass,usual=100g..40kg,possible=1g..1000kg"`
	// Lenses that must come.
	Bring []lang.Text `lang:"bring"`
	// Lenses that must not come.
	Leave []lang.Text `lang:"leave"`
	// A day of the shoot, as "2027-05-03 from 08:00 to 18:00 break 45min at 13:00"; an end before
	// the start is after midnight. With "keep" at the end it is shot or published already: the
	// shots that are "on" it are done, in the order as written, and no others. Without a day
	// all is one day without hours.
	Days []dayLine `lang:"day,usual=10min..2h,possible=1min..12h"`
	// Time zone of the days, by its name in the time zone database, as Europe/Amsterdam; that
	// of the first light from the sun unless given.
	Zone zoneName `lang:"zone,own"`
	// Somewhere to shoot, with the minutes that it takes to move there with the rig, as
	// "place "Car deck" move 40min".
	Places []placeLine `lang:"place,usual=1min..3h,possible=0min..24h"`
	// Which shots "days" may put in another order than written: "free in scene" those of a scene
	// among themselves, "free in place" those of a place too, "free" all; "free in scene "4"" or
	// "free in place "Car deck"" those of that one. Shots of a scene stay on one day and with one
	// unit, unless they say otherwise.
	Order []orderLine `lang:"order,own"`
	// How many lenses of each unit stand on the truck beside those of the bag, and the minutes
	// that it takes to fetch one, as "truck 3 lenses 15min". Without it, a unit has what it carries.
	Truck truckLine `lang:"truck,usual=1min..1h|1..6,possible=0min..12h|1..10"`
	// Most that all hire may cost over all days, with what it costs to fetch.
	Budget lang.Quantity `lang:"budget,dim=money,possible=0..1000000000"`
	// Minutes that a shot takes which does not say it, set-up and takes together.
	Takes lang.Quantity `lang:"takes,dim=time,usual=2min..5h,possible=10s..24h"`
	// Only glass that need not be hired.
	OwnedOnly lang.Flag `lang:"owned_only"`
	// How far the brief may turn out otherwise, for "recommend --nearby": "vary distance
	// 10%", "vary light 1 stop", "vary subject 5%", "vary weight 25%", which hold unless
	// given.
	Vary []variation `lang:"vary,possible=0%..50%|0 stops..4 stops"`
	// Files with criteria that extend or replace the standard ones.
	Rules []lang.Text `lang:"rules"`
	// The place of the keyword.
	Span lang.Span `lang:",span"`
}

// shotBlock is one shot.
type shotBlock struct {
	// What the shot is called on the slate.
	ID lang.Text `lang:",label"`
	// What happens in it.
	Title lang.Text `lang:",label,optional"`
	// Scene of the script: its number, or its heading where the script has no numbers.
	Scene sceneName `lang:"scene,own"`
	// Heading that the scene had in the script when the shot was planned, as "INT. CAR
	// DECK - NIGHT"; "check" says when the script has another now.
	Heading lang.Text `lang:"heading"`
	// What is seen: "person 1.78m", "people 1.2m x 1.78m", "object 0.9m x 1.4m", or
	// "place 3.4m x 2.5m" for a room or a place that is to be sharp in depth. A person is as
	// broad for the height as men are over the upper arms; women are 5 % narrower.
	Subject Subject `lang:"subject,required,usual=1mm..300m,possible=0.1mm..10km"`
	// How the subject is framed: a framing word, two for a framing that changes over the
	// move (tightest first), or the share of the frame that the subject fills.
	Frame Frame `lang:"frame,required,usual=1%..2000%,possible=0.01%..100000%"`
	// Nearest and farthest distance from the sensor plane to the subject; or, as "within
	// 1m..4m", the room in which the camera may stand anywhere.
	Distance distance `lang:"distance,required,dim=length,usual=30cm..200m,possible=1cm..100km"`
	// What the distances are kept by is marked on the floor, as a taped circle or a mark for
	// each foot: nothing is lost by keeping them by eye.
	Marks lang.Flag `lang:"marks"`
	// How the camera moves, with its speed.
	Move Move `lang:"move,usual=0m/s..20m/s|-400deg/s..400deg/s,possible=0m/s..100m/s|-2000deg/s..2000deg/s"`
	// What holds the camera: sled (in the operator's hands), docked (the sled in its dock),
	// legs (the camera on a tripod); sled unless given.
	Support lang.Word `lang:"support,words=sled|docked|legs"`
	// Light that falls on the subject: lux, footcandles, EV at ISO 100, a named level, or
	// the sun by place, time and sky, as "sun at 52.37N 4.90E on 2027-05-03 18:40
	// Europe/Amsterdam overcast". Several for several places: the darkest governs.
	Light lightLevels `lang:"light,usual=0.001lx..200klx,possible=0.00001lx..2000klx"`
	// The stop that it is shot at, as "f/4", or as a T-stop "T4.3": with an adapter that changes it,
	// the one that it acts as. The best stop unless given.
	Stop lang.Quantity `lang:"stop,dim=aperture,usual=f/0.7..f/64,possible=f/0.3..f/1000"`
	// The lens that it is shot with; the best of the kit unless given.
	Lens lang.Text `lang:"lens"`
	// Who keeps focus; fixed unless given.
	Focus lang.Word `lang:"focus,words=fixed|pulled|auto"`
	// How much the shot counts; 1 unless given.
	Weight lang.Quantity `lang:"weight,dim=plain,usual=0.01..100,possible=0.0001..1000"`
	// Distance from the sensor plane to the background; where the camera may stand anywhere
	// in a room, from the place there that is farthest from the subject.
	Background lang.Quantity `lang:"background,dim=length,usual=30cm..50km,possible=1cm..1000km"`
	// How far the subject stands from the middle of the frame, as a share of half its width.
	Offset lang.Quantity `lang:"offset,dim=plain,possible=0%..100%"`
	// Width of the narrowest place that the move goes through.
	Passage lang.Quantity `lang:"passage,dim=length,usual=40cm..20m,possible=5cm..1km"`
	// What the move goes by that calls for caution: road, height, water, public.
	Beside []lang.Word `lang:"beside,words=road|height|water|public"`
	// Sensor mode of this shot, as for a crop at a high frame rate.
	Mode lang.Text `lang:"mode"`
	// Frame rate of this shot.
	Rate lang.Quantity `lang:"rate,dim=rate,usual=1fps..2000fps,possible=0.001fps..100000fps"`
	// Shutter angle of this shot.
	Shutter lang.Quantity `lang:"shutter,dim=angle,usual=2deg..360deg,possible=0.01deg..360deg"`
	// Where it is shot: a "place" of the scenario; where the shot before it is unless given.
	At lang.Text `lang:"at"`
	// Minutes that it takes, set-up and takes together; those of the scenario unless given.
	Takes lang.Quantity `lang:"takes,dim=time,usual=2min..5h,possible=10s..24h"`
	// The day that it is shot on, or several that it may be, as "2027-05-03 or 2027-05-04"; any
	// unless given.
	On onDays `lang:"on,own"`
	// Between which hours it is begun and done, as "17:00 and 18:20", or with "on 2027-05-03"
	// behind it on that day. A shot by the light of the sun is held within half an hour
	// of the time of that light.
	Between []betweenLine `lang:"between,own"`
	// Shots that it comes after.
	After []lang.Text `lang:"after"`
	// Shots that it comes before.
	Before []lang.Text `lang:"before"`
	// The unit that shoots it; any unless given.
	Unit lang.Text `lang:"unit"`
	// What must hold; a lens that does not meet it is excluded.
	Needs []lang.Expression `lang:"need"`
	// What would be good; a lens that does not meet it scores lower.
	Prefers []lang.Expression `lang:"prefer"`
	// The place of the keyword.
	Span lang.Span `lang:",span"`
}

// sceneName is a scene number of the script. It is text: 4, 4A and 110-A are all names.
type sceneName struct {
	Value string
	Span  lang.Span
}

// DecodeArgs reads the value of "scene", quoted or bare.
func (s *sceneName) DecodeArgs(args *lang.Args) {
	s.Span = args.Rest()
	if args.PeekText() {
		s.Value = args.Text().Value
		return
	}
	s.Value = args.Word().Value
}

// expectation is "expect kit …" or "expect shot … lens …".
type expectation struct {
	Kit  []lang.Text // lenses that the kit must be; nil for a shot
	Shot lang.Text
	Lens lang.Text
	Span lang.Span
}

// DecodeArgs reads the values of "expect".
func (e *expectation) DecodeArgs(args *lang.Args) {
	e.Span = args.Keyword().Span
	if args.Word("kit", "shot").Value == "kit" {
		for ok := true; ok; ok = args.More() && !args.Failed() {
			e.Kit = append(e.Kit, args.Text())
		}
		return
	}
	e.Shot = args.Text()
	args.Word("lens")
	e.Lens = args.Text()
}
