package interlocks

// liveChassis is what several interlocks would be owed by.
const liveChassis = "live chassis and unknown construction are not energised"

// table is read only. Where the engine keeps an interlock, All puts its sentence
// and tests in front.
var table = []Row{
	{ID: "INV-00", Kind: Gate},
	{
		ID: "INV-01", Kind: Gate, Kept: []string{"internal/plan"},
		Says: "a procedure file that leaves out a test or a hold that guards, and a kit that cannot make it, are refused",
		Tests: []string{
			"internal/plan TestMainsNeedsWhatTheInterlocksSay", "internal/plan TestAuthorMayNotLeaveOutWhatGuards",
			"internal/plan TestKitWithoutATesterIsRefused",
		},
	},
	{
		ID: "INV-02", Kind: Gate, Kept: []string{"internal/engine", "internal/session"},
		Says: "a session begins, and goes on after any break, with nothing known: live and charged",
		Tests: []string{
			"internal/engine TestZeroValuesAreTheSafeOnes", "internal/engine TestAnInterruptionKnowsNothingOfTheSet",
			"internal/session TestNextMorningGoesOnWhereItStood",
		},
	},
	{ID: "INV-03", Kind: Gate, Tests: []string{"internal/session TestLateLineIsNotUsed"}},
	{
		ID: "INV-04", Kind: Gate, Kept: []string{"internal/session"},
		Says: "a full proof reads the known source before and after, and HT1, HT2, the screen and the plug pins a.c. and d.c. at 10 V or less, HT1 and HT2 again after 60 s; of a boxed set the pins alone, once",
		Tests: []string{
			"internal/session TestProofRefusesWhatIsNotDead", "internal/session TestHalfAProofDoesNotOutlastTheBench",
			"internal/session TestBoxedSetIsProvedDeadAtItsPins", "internal/session TestMeterLeftOnAlternatingVoltsProvesNothing",
		},
	},
	{ID: "INV-05", Kind: Gate},
	{
		ID: "INV-06", Kind: Gate, Kept: []string{"internal/sheet", "internal/plan"},
		Says:    "a set whose chassis can be live needs an isolating transformer that was read to isolate",
		Tests:   []string{"internal/plan TestRefusals/live chassis", "internal/sheet TestReview"},
		Refused: liveChassis,
	},
	{
		ID: "INV-07", Kind: Gate, Kept: []string{"internal/sheet", "internal/plan"},
		Says:    "unknown construction counts as live chassis",
		Tests:   []string{"internal/plan TestRefusals/unknown construction", "internal/sheet TestReview"},
		Refused: liveChassis,
	},
	{
		ID: "INV-08", Kind: Gate, Kept: []string{"internal/session"},
		Says:  "a proof of dead ends 15 minutes after the last entry and 60 minutes after it was made, when the plug goes in, and at every break; that somebody left the bench no program sees: the standing line says that the proof then ends",
		Tests: []string{"internal/session TestLateLineIsNotUsed", "internal/session TestComputerAsleepEndsAProof", "internal/interlocks TestAProofEndsAfterAnHour"},
	},
	{ID: "INV-09", Kind: Gate, Tests: []string{"internal/engine TestTheWholeWorkInItsOrder"}},
	{
		ID: "INV-10", Kind: Gate, Kept: []string{"internal/plan"},
		Says:  "a file raises by steps of 25 % of the tap at most, each with its dwell and HT1 read, behind the lamp and again when it is out",
		Tests: []string{"internal/engine TestRungsInTheWrongOrderAreStoppedAtTheFirst", "internal/damage TestEveryDamageIsRefused"},
	},
	{ID: "INV-11", Kind: Gate, Tests: []string{"internal/plan TestAuthorMayNotLeaveOutWhatGuards/hold-2"}},
	{ID: "INV-12", Kind: Gate, Tests: []string{"internal/session TestDangerousReadingStops", "internal/session TestAStopOutlivesTheEvening"}},
	{ID: "INV-13", Kind: Gate, Tests: []string{"internal/session TestPersonsQueryIsNeverAccepted"}},
	{ID: "INV-14", Kind: Gate, Tests: []string{"internal/engine TestAStopWithoutACauseMustPassTwiceRunning", "internal/session TestTypingErrorThatStoppedEndsNoSession"}},
	{
		ID: "INV-15", Kind: Record, Kept: []string{"internal/session", "internal/transcriptlog"},
		Says:  "no entry is changed or deleted: a correction is a new entry that names the old",
		Tests: []string{"internal/session TestWrongEntryIsReadAgainAndStaysOnRecord", "internal/transcriptlog TestEveryChangedByteBeforeTheLastLine"},
	},
	{
		ID: "INV-16", Kind: Numbers, Kept: []string{"internal/unit", "internal/checks"},
		Says: "a number has its own unit or the prompt's, and one read with mains on is judged by the volts at the set's primary, read on its line, or at the outlet before and after, which agree",
		Tests: []string{
			"internal/unit TestBothDoorsRefuse", "internal/checks TestVoltsOnTheSetBeforeTheyAreRead",
			"internal/session TestOutletThatMovedTakesBackWhatWasReadBetween",
		},
	},
	{
		ID: "INV-17", Kind: Load, Kept: []string{"internal/plan"},
		Says:  "an author's window lies inside the check's own",
		Tests: []string{"internal/plan TestRefusals/wider window", "internal/plan TestAuthorMayNarrow", "internal/damage TestEveryDamageIsRefused"},
	},
	{
		ID: "INV-18", Kind: Gate, Kept: []string{"internal/plan", "internal/session"},
		Says: "every start asks what was touched, touched tells it in between, an empty line is no answer, and what that change may have spoilt is void; its cost is shown first, and whatever follows but no makes it true",
		Tests: []string{
			"internal/session TestTwoAlterationsVoidWhatEachDoes", "internal/session TestAlterationIsToldAsItIsMade",
			"internal/session TestAlterationThatIsNotHeardIsRefused", "internal/session TestOneRepairAsksOnlyForWhatItVoided",
			"internal/session TestAlterationWithoutAnAnswerIsTrue", "internal/session TestNothingIsTakenBesideTheTwoWords",
			"internal/plan TestEachAlterationVoidsItsRowAndNoMore", "internal/session TestPlannedMovesVoidNothing",
		},
	},
	{
		ID: "INV-19", Kind: Gate, Kept: []string{"cmd/powerup"},
		Says: "a record carries the set sheet it was made with, so a changed sheet begins a new record; a reading taken back takes with it what was judged by a window that follows from it, and a test that was broken off is made again from its first reading",
		Tests: []string{
			"cmd/powerup TestCommandLine/demo", "internal/engine TestWhatWasTakenBackTakesWithItWhatWasDecidedByIt",
			"internal/checks TestEveryReadingThatMovesAWindowIsNamed", "internal/engine TestATestThatWasBrokenOffIsMadeAgainFromItsFirstReading",
		},
	},
	{
		ID: "INV-20", Kind: Gate, Kept: []string{"internal/session"},
		Says:  "30 minutes with mains on and no entry count as left on",
		Tests: []string{"internal/session TestLateLineIsNotUsed", "internal/session TestNextMorningGoesOnWhereItStood"},
	},
	{
		ID: "INV-21", Kind: Gate, Kept: []string{"internal/engine", "internal/checks", "internal/session"},
		Says: "insulation, earth bond and the ohms of the HT line stand for a day from their reading, and fall with touched d, moved or damp; meters, RCD, lamp and tool for one session",
		Tests: []string{
			"internal/engine TestADayEndsWhatLastsADay", "internal/session TestAfterADayInsulationAndLineAreReadAgain",
			"internal/session TestDayIsCountedFromTheReadingNotFromThePark",
		},
	},
	{ID: "INV-22", Kind: Gate, Tests: []string{"internal/engine TestASecondQueryOnOnePathIsAStop", "internal/engine TestSixOpenQueriesHoldMainsUntilOneIsRepaired"}},
	{
		ID: "INV-23", Kind: Gate,
		Tests: []string{
			"internal/session TestPersonsQueryIsNeverAccepted", "internal/session TestGateQueryNeedsASecondReading",
			"internal/session TestSecondReadingHasItsOwnRoute", "internal/session TestInsulationInPoorConditionMayBeAccepted",
		},
	},
	{
		ID: "INV-24", Kind: Gate, Kept: []string{"internal/plan"},
		Tests:   []string{"internal/plan TestRefusals/training"},
		Refused: "a bench for training: a second person cannot release a hold with a key of his own, and every record says witness none",
	},
	{
		ID: "INV-25", Kind: Load, Kept: []string{"internal/plan"},
		Says:  "every lead is clipped on dead and stays while mains is on: there is no step with a probe in the hand, and a file's note is shown as its author's, overriding nothing",
		Tests: []string{"internal/plan TestLeadsMoveBetweenBlocksOnly", "internal/session TestNoteOfTheFileOverridesNothing"},
	},
	{
		ID: "INV-26", Kind: Gate, Kept: []string{"internal/plan", "internal/session"},
		Says:  "mains refuses until it was said who is within call; with nobody the word that switches on says that the chassis is covered, and an entry is due every 15 minutes, or mains counts as left on",
		Tests: []string{"internal/plan TestMainsNeedsWhatTheInterlocksSay", "internal/session TestNobodyWithinCallIsHeard", "internal/session TestAloneTheChassisIsCovered"},
	},
	{
		ID: "INV-27", Kind: Screen, Kept: []string{"internal/session", "internal/console"},
		Says:  "what is known of the supply opens each block and is the line above each prompt, in words",
		Tests: []string{"internal/console TestCautionIsFirstAndLast", "internal/console TestLinesShowAWholeSession"},
	},
	{
		ID: "INV-28", Kind: Numbers, Kept: []string{"internal/checks", "internal/plan"},
		Says:  "HT above the lowest rating of its capacitors is a stop at once, which is stricter than the half minute that practice allows; a set that works above 500 V is refused, and no set sheet can describe a television",
		Tests: []string{"internal/checks TestCapacitorRatingIsAbsolute", "internal/checks TestFirstColdStart", "internal/plan TestRefusals/working HT above the scope"},
	},
	{
		ID: "INV-29", Kind: Gate, Kept: []string{"internal/plan"},
		Says:    "HT refuses until fixed bias was read at every grid",
		Tests:   []string{"internal/plan TestRefusals/fixed bias", "internal/session TestCathodeAtChassisIsNeverEnergised"},
		Refused: "fixed bias, by its sheet; on a sheet that does not say, the cathode reads 0 ohms to chassis, dead, and that stops",
	},
	{
		ID: "INV-30", Kind: Gate, Kept: []string{"internal/plan"},
		Says:  "HT refuses until the output transformer's primary and the speech coil were read",
		Tests: []string{"internal/plan TestMainsNeedsWhatTheInterlocksSay"},
	},
	{
		ID: "INV-31", Kind: Numbers, Kept: []string{"internal/unit", "internal/meter", "internal/checks", "internal/session"},
		Says:  "OL, bounds, minus signs and slips of ten are classed before they are judged, and OL is worth no more than the top of the range",
		Tests: []string{"internal/meter TestWhatAMeterShows", "internal/meter TestWhatIsNoReading", "internal/meter TestOLWithoutItsRangeIsNoReading", "internal/session TestSlipIsNamedNeverCorrected", "internal/session TestNonsenseNeverPasses"},
	},
	{
		ID: "INV-32", Kind: Gate, Kept: []string{"internal/engine", "internal/session"},
		Says:  "after a proof that failed nothing is taken but discharging and that proof again, from its first line; after volts the whole proof",
		Tests: []string{"internal/engine TestAFailedProofLeavesTheSetUnknown", "internal/session TestProofRefusesWhatIsNotDead", "internal/session TestAfterAFailedProofNothingElseIsTaken"},
	},
	{
		ID: "INV-33", Kind: Gate, Kept: []string{"internal/plan"},
		Says:    "touch current is never read straight behind an isolating transformer",
		Tests:   []string{"internal/session TestAnotherProfilesNetworkMeasuresNothing"},
		Refused: "there is no direct method, and no touch current at all on a bench that names an isolating transformer",
	},
	{
		ID: "INV-34", Kind: Numbers, Kept: []string{"internal/checks"},
		Says:  "no test puts more on a capacitor of the sheet than it stands; what is lifted, joined and set each check says in words",
		Tests: []string{"internal/checks TestCouplingCapacitorIsNotTestedAboveItsRating", "internal/checks TestLineIsNotTestedAboveItsCapacitors"},
	},
	{
		ID: "INV-35", Kind: Numbers, Kept: []string{"internal/session"},
		Says:  "waits run on a clock that nobody sets; a wall clock that jumps by more than 2 minutes ends what stands for a day, and one set back makes no proof younger",
		Tests: []string{"internal/engine TestAWaitStartsAnewWithThePeriodAndWithTheLine", "internal/session TestComputerAsleepWithMainsOnIsLeftOn", "internal/session TestClockSetBackMakesNoProofYounger", "internal/interlocks TestAJumpOfTheWallClockEndsTheDay"},
	},
	{
		ID: "INV-36", Kind: Gate, Kept: []string{"internal/session"},
		Says: "a set is handed back only boxed, with its touch current read, no query open, and by a close that says that the owner has the cautions",
		Tests: []string{
			"internal/session TestSetIsHandedBackOnlyAfterItsTouchCurrent", "internal/session TestBoxedPartEndsNotHandedBackWithoutATouchNetwork",
			"internal/session TestOwnerWithoutTheCautionsGetsNothingBack",
		},
	},
	{ID: "INV-37", Kind: Gate, Tests: []string{"internal/session TestNonsenseNeverPasses"}},
	{
		ID: "INV-38", Kind: Load, Kept: []string{"internal/spec", "internal/plan"},
		Says:  "a step names a check of the catalogue, a hold or a raise, and none of them defeats an RCD, a fuse, an earth or an interlock; a file's note is shown as its author's, overriding nothing",
		Tests: []string{"internal/plan TestRefusals/check nobody knows", "internal/session TestNoteOfTheFileOverridesNothing"},
	},
	{
		ID: "INV-39", Kind: Record, Kept: []string{"internal/transcriptlog", "cmd/powerup"},
		Says:  "practice is marked on every line, signed under another name, and never goes on as a real record",
		Tests: []string{"internal/transcriptlog TestNamespaceIsThatOfThePracticeMark", "cmd/powerup TestCommandLine/demo"},
	},
	{
		ID: "INV-40", Kind: Gate, Kept: []string{"internal/plan"},
		Says:  "each line with an insulation test from the mains asks first for the primary's ohms through the same pins and switch, and OL there stops",
		Tests: []string{"internal/interlocks TestInsulationIsAskedForWithThePrimary", "internal/session TestContinuityIsNeverLeftUnread"},
	},
	{
		ID: "INV-41", Kind: Load, Kept: []string{"internal/plan"},
		Says:  "a meter that stands less than the HT without load at top mains, or less than CAT II, is refused by its sheet, which speaks for its leads and clips too",
		Tests: []string{"internal/plan TestRefusals/meter that the HT over-runs", "internal/plan TestRefusals/tester that the HT over-runs", "internal/plan TestRefusals/meter unfit for mains"},
	},
	{
		ID: "INV-42", Kind: Gate, Kept: []string{"internal/checks", "internal/plan"},
		Says: "the RCD's button, the isolating transformer of the bench, the lamp through its box, the discharge tool, each meter and the tester's leads are tried in every session; a bench with neither RCD nor isolating transformer is refused",
		Tests: []string{
			"internal/plan TestMainsNeedsWhatTheInterlocksSay", "internal/interlocks TestTheBenchIsTriedInEverySession",
			"internal/plan TestIsolatingTransformerIsProvedWhereThereIsOne", "internal/plan TestRefusals/nothing against a shock",
		},
	},
	{
		ID: "INV-43", Kind: Screen, Kept: []string{"cmd/powerup"},
		Says:  "the stop key is live at every prompt and in every wait, and the record of it is written first",
		Tests: []string{"cmd/powerup TestStopKeyAtALivePromptIsRecordedFirst", "cmd/powerup TestStopKeyIsLiveDuringAWait", "cmd/powerup TestWhatEndsASessionIsOnDiskBeforeItIsShown"},
	},
	{ID: "INV-44", Kind: Gate, Tests: []string{"internal/session TestClipLocksMainsUntilTheLineReadsFree", "internal/session TestClipBeforeTheFirstReadingOfTheLine"}},
	{
		ID: "INV-45", Kind: Numbers, Kept: []string{"internal/checks"},
		Says:  "a cathode below 70 % of what is computed, with HT present, is a stop",
		Tests: []string{"internal/checks TestShortedCathodeAtAnyStep", "internal/session TestDangerousReadingStops/cathode at 0.4 V"},
	},
	{
		ID: "INV-46", Kind: Numbers, Kept: []string{"internal/checks"},
		Says:  "the current of the output valve is judged by two routes, never by its cathode alone",
		Tests: []string{"internal/checks TestWhatTheCathodeAloneWouldHide", "internal/checks TestCurrentsByTwoRoutes"},
	},
	{
		ID: "INV-47", Kind: Gate, Kept: []string{"internal/plan"},
		Says:  "spot checks at full mains refuse until the first cold start has passed",
		Tests: []string{"internal/plan TestMainsNeedsWhatTheInterlocksSay", "internal/plan TestAuthorMayNotLeaveOutTheColdStart"},
	},
	{
		ID: "INV-48", Kind: Gate, Kept: []string{"internal/plan"},
		Says:  "stages, with how the set stands in them, are the program's: a file cannot rename one, or put a check into one where the set stands otherwise",
		Tests: []string{"internal/plan TestLeadsMoveBetweenBlocksOnly", "internal/session TestPowerDeclaresHowTheSetStands", "internal/plan TestRefusals/stage nobody knows", "internal/damage TestEveryDamageIsRefused"},
	},
	{
		ID: "INV-49", Kind: Load, Kept: []string{"internal/checks"},
		Says:  "pass, query and stop of a window cover every number and OL once",
		Tests: []string{"internal/checks TestEveryWindowCoversTheLine", "internal/checks TestEveryReadingHasOneVerdict"},
	},
	{
		ID: "INV-50", Kind: Gate, Kept: []string{"internal/plan"},
		Says:    "what is newly joined to a floating set ends the reading that it floats",
		Tests:   []string{"internal/plan TestRefusals/live chassis"},
		Refused: liveChassis,
	},
	{
		ID: "INV-51", Kind: Gate, Kept: []string{"internal/plan", "internal/session"},
		Says:  "after a new lamp or fuse, told as touched l or m, the volts start again at the first step",
		Tests: []string{"internal/session TestNewBulbOrFuseStartsTheRampAgain"},
	},
	{
		ID: "INV-52", Kind: Gate, Kept: []string{"internal/session"},
		Says:  "no set is dead without the discharge tool, whose use is part of each proof's line, and a proof is read at the HT negative",
		Tests: []string{"internal/session TestProofRefusesWhatIsNotDead/the tool left in its drawer", "internal/session TestProofRefusesWhatIsNotDead/the tool not used before a move"},
	},
	{
		ID: "INV-53", Kind: Load, Kept: []string{"internal/checks"},
		Says:  "a window from typical figures stops at an open circuit, a dead short or a published limit only, and no limit of safety is typical",
		Tests: []string{"internal/checks TestTypicalFiguresDoNotStop", "internal/checks TestTypicalWindowsStopAtAbsoluteLinesOnly"},
	},
	{
		ID: "INV-54", Kind: Gate, Kept: []string{"internal/plan"},
		Says:    "an earlier reading never stands for one that guards a person or energy",
		Tests:   []string{"internal/interlocks TestEarlierReadingsStandForNothing"},
		Refused: "earlier readings on a set sheet stand for nothing at all",
	},
	{
		ID: "INV-55", Kind: Gate, Kept: []string{"internal/plan"},
		Says:  "without the test of the HT line at volts each step of the ramp is held 10 minutes until one that surely shows HT, and the record says that the line was not proved at volts",
		Tests: []string{"internal/plan TestWithoutATesterTheFirstHTIsHeldTenMinutes", "internal/session TestRecordSaysThatTheLineWasNotProvedAtVolts"},
	},
	{
		ID: "INV-56", Kind: Gate, Kept: []string{"internal/checks", "internal/plan"},
		Says:  "before the cathodes are known to emit, low HT is not judged; a lamp or a ramp that keeps the set below that point is refused",
		Tests: []string{"internal/checks TestOneSidedStepsHaveNoLowSide", "internal/plan TestRefusals/lamps too small for the ramp", "internal/plan TestRefusals/ramp that proves no HT"},
	},
	{
		ID: "INV-57", Kind: Load, Kept: []string{"internal/plan"},
		Says:  "no step is planned above what the lamp lets the set reach",
		Tests: []string{"internal/plan TestNoRungAboveTheLampsCeiling"},
	},
	{
		ID: "INV-58", Kind: Load, Kept: []string{"internal/checks"},
		Says:  "the coupling capacitor is judged with the full volts of the driver's rail on it",
		Tests: []string{"internal/checks TestCouplingByTester"},
	},
	{
		ID: "INV-59", Kind: Load, Kept: []string{"internal/plan"},
		Says:  "a limit of touch current is never held against another profile's network",
		Tests: []string{"internal/session TestAnotherProfilesNetworkMeasuresNothing"},
	},
	{
		ID: "INV-60", Kind: Gate, Kept: []string{"internal/plan"},
		Says:  "a boxed set is energised only after insulation, bond and its hold in this boxing, and begins with the lamp in; work inside is no repair of it: what that ends belongs to the open part",
		Tests: []string{"internal/plan TestAuthorMayNotLeaveOutWhatGuards/hold-box", "internal/session TestBoxedSetStartsBehindTheLamp", "internal/session TestContinuityIsNeverLeftUnread"},
	},
	{
		ID: "INV-61", Kind: Load, Kept: []string{"internal/checks"},
		Says:  "with the rectifier out nothing is measured from anode to anode",
		Tests: []string{"internal/plan TestNeverAnodeToAnode"},
	},
	{
		ID: "INV-62", Kind: Screen, Kept: []string{"internal/session", "internal/console"},
		Says:  "what this kit cannot measure is named before the first reading",
		Tests: []string{"internal/plan TestShippedTwoMeterBenchLacksOnlyTouchCurrent", "internal/interlocks TestWhatTheKitLacksIsSaidFirst"},
	},
	{
		ID: "INV-63", Kind: Gate, Kept: []string{"internal/session"},
		Says:  "the first stop of a line voids the readings behind it: read, not used",
		Tests: []string{"internal/interlocks TestReadingsBehindAStopAreNotUsed"},
	},
}
