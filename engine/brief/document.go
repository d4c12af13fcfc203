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
	// Which unit of the production the cards are for, as "second unit"; it stands at their foot.
	Unit lang.Text `lang:"unit"`
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
	// Heaviest bag of lenses.
	Bag lang.Quantity `lang:"bag,dim=mass,usual=100g..40kg,possible=1g..1000kg"`
	// Lenses that must come.
	Bring []lang.Text `lang:"bring"`
	// Lenses that must not come.
	Leave []lang.Text `lang:"leave"`
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
