package catalog

import "glassbrief/lang"

// A Rig is a handheld, counterbalanced stabiliser: a gimbal with a stage for the camera
// above it, and a post with a base below that carries plates as counterweight. Heights
// and depths are from the gimbal's centre, with the rig upright.
type Rig struct {
	// Name, unique in the catalogue.
	Name lang.Text `lang:",label"`
	// Remarks for people.
	About lang.Text `lang:"about" absent:""`
	// Least and greatest mass on the stage that the rig can be trimmed with.
	Payload lang.Interval `lang:"payload,dim=mass,rough,usual=100g..30kg,possible=0kg..500kg"`
	// Angle by which the view still swings in the hands of a practised operator who stands,
	// peak to peak; by how much more at a walk, on stairs or at a run follows from the move.
	Wobble lang.Quantity `lang:"wobble,dim=angle,rough,usual=0.01deg..5deg,possible=0deg..90deg"`
	// Share of the rise and fall of a step, and of its sway, that does not reach the camera.
	Isolation lang.Quantity `lang:"isolation,dim=plain,rough,possible=0%..100%"`
	// Height of the stage's surface above the gimbal.
	StageHeight lang.Quantity `lang:"stage_height,dim=length,rough,usual=20mm..500mm,possible=1mm..5m"`
	// How far the stage can be shifted forward from the middle, and as far back.
	StageTravel lang.Quantity `lang:"stage_travel,dim=length,rough,usual=5mm..200mm,possible=0.1mm..2m"`
	// Depth of the plates below the gimbal, from the post pushed in to the post drawn out.
	Post lang.Interval `lang:"post,dim=length,rough,usual=50mm..1.5m,possible=1mm..10m"`
	// Mass of the whole rig without camera and plates.
	SledMass lang.Quantity `lang:"sled_mass,dim=mass,rough,usual=200g..20kg,possible=10g..200kg"`
	// Part of that mass which goes down with the post.
	BaseMass lang.Quantity `lang:"base_mass,dim=mass,rough,usual=50g..15kg,possible=1g..200kg"`
	// Depth of the rig's centre of mass below the gimbal, without camera and plates, the
	// post pushed in; negative when it lies above.
	SledBalance lang.Quantity `lang:"sled_balance,dim=length,rough,usual=-300mm..1m,possible=-5m..5m"`
	// Moment of inertia about the gimbal's axis of tilt, under the same conditions.
	SledInertia lang.Quantity `lang:"sled_inertia,dim=inertia,rough,usual=0.002kgm2..5kgm2,possible=0.000001kgm2..1000kgm2"`
	// Mass of one plate.
	PlateMass lang.Quantity `lang:"plate_mass,dim=mass,rough,usual=5g..2kg,possible=0.1g..50kg"`
	// How many plates the base takes; half go to the front and half to the back.
	Plates lang.Quantity `lang:"plates,dim=plain,usual=0..100,possible=0..10000"`
	// How far before and behind the post the plates sit.
	PlateReach lang.Quantity `lang:"plate_reach,dim=length,rough,usual=0mm..500mm,possible=0m..5m"`
	// The place of the keyword.
	Span lang.Span `lang:",span"`
}
