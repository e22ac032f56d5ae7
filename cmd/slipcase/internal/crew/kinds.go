package crew

import (
	"slipcase/predict"
	"slipcase/weather"
)

// The kinds of fact that the page has words for, under the names that predict and weather
// explain them by; those of weather that would be read for the predictor's begin with Air.
type (
	Basis        = predict.Basis
	Comparison   = predict.Comparison
	CubeRootGap  = predict.CubeRootGap
	DecisionKind = predict.DecisionKind
	Equipment    = predict.Equipment
	Explained    = predict.Explained
	PowerGap     = predict.Gap
	HandWay      = predict.HandWay
	LaunchLimit  = predict.LaunchLimit
	Limits       = predict.Limits
	NoteKind     = predict.NoteKind
	TrackPart    = predict.Part
	RoundNote    = predict.RoundNote
	ShortPull    = predict.ShortPull
	Span         = predict.Span
	TrendShift   = predict.Shift
	Trend        = predict.Trend
	TrendDay     = predict.TrendDay
	Unusual      = predict.Unusual
	RunCount     = predict.RunCount
	Why          = predict.Why
	WhyKind      = predict.WhyKind
	WhyPiece     = predict.WhyPiece
	Beyond       = weather.Beyond
	AirDoubt     = weather.Doubt
	AirHow       = weather.How
	AirQuantity  = weather.Quantity
)

// The kinds themselves.
const (
	Agreed              = predict.Agreed
	AirAssumed          = predict.AirAssumed
	AirOfRuns           = predict.AirOfRuns
	AirUncertain        = predict.AirUncertain
	AirUnlike           = predict.AirUnlike
	AirlessRuns         = predict.AirlessRuns
	BoostUntold         = predict.BoostUntold
	AirsApart           = predict.AirsApart
	AtFinish            = predict.AtFinish
	BrokeOut            = predict.BrokeOut
	ByBye               = predict.ByBye
	ByTires             = predict.ByTires
	ByWheelie           = predict.ByWheelie
	ByTorque            = predict.ByTorque
	ByConverter         = predict.ByConverter
	LaunchLimits        = predict.LaunchLimits
	ByLastRun           = predict.ByLastRun
	ByLastRunCorrected  = predict.ByLastRunCorrected
	ByLineOnAir         = predict.ByLineOnAir
	ByMeanOf3           = predict.ByMeanOf3
	CrossedLine         = predict.CrossedLine
	FormulaQuickestS    = predict.DoubtQuickestS
	DrivelineBike       = predict.DrivelineBike
	DrivelineFront      = predict.DrivelineFront
	DrivelineRear       = predict.DrivelineRear
	EnginePower         = predict.EnginePower
	FinishUntold        = predict.FinishUntold
	FirstRed            = predict.FirstRed
	FirstRedUntold      = predict.FirstRedUntold
	FromFormula         = predict.FromFormula
	FromKind            = predict.FromKind
	GapEarly            = predict.GapEarly
	GapHalf             = predict.GapHalf
	GapShort            = predict.GapShort
	GapLate             = predict.GapLate
	GapOfFormula        = predict.GapOfFormula
	GaveTooLittle       = predict.GaveTooLittle
	HadSpare            = predict.HadSpare
	Helmet              = predict.Helmet
	IdealPull           = predict.IdealPull
	LaunchKept          = predict.LaunchKept
	LaunchUntold        = predict.LaunchUntold
	LoopAlways          = predict.LoopAlways
	LoopOnSlicks        = predict.LoopOnSlicks
	MostTried           = predict.MostTried
	MostWeightTried     = predict.MostWeightTried
	MuchPower           = predict.MuchPower
	MuchWeight          = predict.MuchWeight
	NeverLeft           = predict.NeverLeft
	NeverStaged         = predict.NeverStaged
	NewSetup            = predict.NewSetup
	NoFinish            = predict.NoFinish
	NoPower             = predict.NoPower
	NoSharedDay         = predict.NoSharedDay
	NoTime              = predict.NoTime
	NoWeight            = predict.NoWeight
	NotTold             = predict.NotTold
	OfGrip              = predict.OfGrip
	OfWeight            = predict.OfWeight
	OutOfLine           = predict.OutOfLine
	PartLaunch          = predict.PartLaunch
	PartMiddle          = predict.PartMiddle
	PartTopEnd          = predict.PartTopEnd
	PowerAsStated       = predict.PowerAsStated
	PowerPlaceUntold    = predict.PowerPlaceUntold
	PowerStandardUntold = predict.PowerStandardUntold
	PowerUncorrected    = predict.PowerUncorrected
	PullHigh            = predict.PullHigh
	PullLow             = predict.PullLow
	PullUnderOwn        = predict.PullUnderOwn
	RedLight            = predict.RedLight
	RiderGear           = predict.RiderGear
	RollBar             = predict.RollBar
	RollBarIfOpen       = predict.RollBarIfOpen
	RollCage            = predict.RollCage
	Licence             = predict.Licence
	ChassisPapers       = predict.ChassisPapers
	DrivelineGuard      = predict.DrivelineGuard
	Parachute           = predict.Parachute
	FireJacket          = predict.FireJacket
	FireSuit            = predict.FireSuit
	ArmRestraints       = predict.ArmRestraints
	NeckRestraint       = predict.NeckRestraint
	FireSystem          = predict.FireSystem
	TetherCutOff        = predict.TetherCutOff
	Leathers            = predict.Leathers
	TyreRating          = predict.TyreRating
	TimeUntold          = predict.TimeUntold
	WorseRed            = predict.WorseRed
	ByName              = weather.ByName
	ByOne               = weather.ByOne
	ByTwo               = weather.ByTwo
	DewPoint            = weather.DewPoint
	AirDoubted          = weather.Doubted
	DryPressure         = weather.DryPressure
	DensityAltitudeRead = weather.DensityAltitude
	DensityAlone        = weather.DensityAlone
	FromSeaLevel        = weather.FromSeaLevel
	AirGiven            = weather.Given
	AirImpossible       = weather.Impossible
	NoTrack             = weather.NoTrack
	NotInLog            = weather.NotInLog
	NotNear             = weather.NotNear
	RaceDay             = weather.RaceDay
	RelativeHumidity    = weather.RelativeHumidity
	SlipWithoutTrack    = weather.SlipWithoutTrack
	PressureTaken       = weather.PressureTaken
	StandardPressure    = weather.StandardPressure
	StationPressure     = weather.StationPressure
	TemperatureRead     = weather.Temperature
	Unread              = weather.Unread
	WindRead            = weather.Wind
	DayUnlike           = predict.DayUnlike
	ChangedSince        = predict.ChangedSince
	GainNotSeen         = predict.GainNotSeen

	WhyNoise = predict.WhyNoise
	WhyAir   = predict.WhyAir
	WhyWind  = predict.WhyWind
	WhyLane  = predict.WhyLane
	WhyHeat  = predict.WhyHeat
	WhyTrack = predict.WhyTrack
	WhyDrift = predict.WhyDrift
	WhyCar   = predict.WhyCar
	WhyDay   = predict.WhyDay
	WhyOdd   = predict.WhyOdd
)
