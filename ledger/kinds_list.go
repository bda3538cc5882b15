package ledger

import "sync"

// kinds are all kinds of this version, in the order of asking and printing;
// fields in the order of a sheet. They are made when they are first asked for.
var kinds = sync.OnceValue(func() []Kind { return complete(kindList()) })

func kindList() []Kind {
	return []Kind{
		{
			Name: "intake", Says: "taken in", Cover: true, Lacks: intakeLacks,
			Fields: fields([]Field{
				named("vin", FormToken), named("serial", FormToken), named("no-vin", FormFree),
				named("builder", FormText).must(), named("model", FormText).must(), named("year", FormInteger).must(),
				named("odometer", FormOdometer).ask(),
			}, roof(), []Field{
				named("holder", FormMark).must(), labelled("owned-months", "owned", FormMonths),
				named("rain-days", FormInteger).says("days since the last rain").ask(),
				named("papers-shown", FormText).many().none().must(),
				word("made-safe", "madesafe").label("made-safe").many().none().must(),
				named("nonce", FormToken).filled(), named("house", FormKeyLine).filled(),
				named("recovery", FormToken).filled(),
			}),
			Privates: append([]Private{
				asked("holder-name"),
				asked("holder-phone"),
				asked("holder-mail"),
				asked("holder-address"),
				asked("plate"),
				asked("complaint"),
			}, Private{Name: "valuables", Sight: SightShop, Asked: true}),
		},
		{
			Name: "measure", Says: "measured", Guest: true, Cover: true, Lacks: measureLacks,
			Fields: fields(roof(), []Field{named("crown", FormMm), shape("parked", "parked", "parked")}),
		},
		{
			Name: "finding", Says: "found", Tag: Filled, Guest: true, Cover: true, Lacks: findingLacks,
			Fields: []Field{
				word("defect", "defects").must().asks("what is wrong"), word("state-of", "state-of"), places().must(), with().ask(),
				word("between", "between").label("between").of("delamination").asks("between which layers"), shape("results", "checked", "result").apart(),
				shape("causes", "cause", "cause").apart().ask(), shape("whose", "whose", "whose").or(unknownHand()).ask(),
				shape("known", "known", "known").apart().ask(), word("deep", "deep").must().asks("how deep"), word("soon", "soon").must().asks("how soon"),
				word("sure", "sure").or("seen"), answers(),
			},
			Privates: shopSees("business"),
		},
		{
			Name: "not-looked-at", Says: "not looked at", Guest: true,
			Fields: []Field{places().must(), named("why", FormFree).must()},
		},
		{
			Name: "decision", Says: "the holder chose", Guest: true, Cover: true, Lacks: decisionLacks,
			Fields: []Field{
				word("choice", "choice").must().asks("what the holder chose"), answers().ask(), places().filled(), named("until", FormDay).of("repair-by").asks("until which day"),
				shape("given", "given", "said").apart().must(), named("warned", FormFree).ask().asks("what the holder was warned of"), named("holder", FormMark).filled(),
			},
			Privates: []Private{
				money("price", SightHolder), money("agreed-price", SightHolder), {Name: "signature"},
			},
		},
		{
			Name: "delivery", Says: "lots came in", Guest: true,
			Fields:   []Field{shape("lots", "lot", "lot").apart().must()},
			Privates: []Private{money("cost", SightShop)},
		},
		{
			Name: "lot-notice", Says: "a lot is not to be used",
			Fields: []Field{
				named("lot", FormTag).must(), named("from", FormText).must(), named("told", FormDay).must().asks("told on which day"),
				named("wrong", FormFree).must(), named("stop-use", FormDay).must().asks("not to be used from which day"),
			},
		},
		{
			Name: "work", Says: "worked", Guest: true, Cover: true, Lacks: workLacks,
			Fields: []Field{
				shape("ops", "", "operation").apart().must(), word("state", "state").or("closed"),
				named("hides", FormFlag).or(false).ask().asks("does it hide what is under it, yes or no"), named("kept-dry", FormFlag), with(),
				shape("results", "checked", "result").apart(), answers(),
			},
			Privates: shopSees("hours"),
		},
		{
			Name: "cure", Says: "cure", Guest: true, Cover: true, Lacks: cureLacks,
			Fields: []Field{
				answers().must(), named("start", FormMoment).ask().asks("when curing began, if it did now"), labelled("lots", "lot", FormTag).apart(),
				labelled("stages", "stage", FormStage).apart(), with(), shape("log", "log", "log point").apart().ask(),
				word("source", "cure-source").label("source"), named("file", FormPhoto), named("sensor", FormPlace),
				shape("releases", "release", "release").apart().ask(),
				labelled("disturbed", "disturbed-early", FormFlag).or(false),
			},
		},
		{
			Name: "check", Says: "checked", Guest: true, Cover: true,
			Fields: []Field{
				shape("results", "", "result").apart().must(), named("instrument", FormText).ask().asks("the instrument"),
				word("scale", "scale").label("scale"), with(), shape("causes", "cause", "cause").apart(), answers(),
				named("holder-present", FormFlag).or(false),
			},
		},
		{
			Name: "remark", Says: "remarked", Guest: true, Lacks: remarkLacks,
			Fields: []Field{places().ask(), answers().ask()},
		},
		{
			Name: "certificate", Says: "put our name to", Tag: Filled, Guest: true, Cover: true,
			Fields: []Field{
				named("holder", FormMark).must(), word("title", "title").label("title").must(),
				shape("lines", "line", "cover line").apart().must(), named("numbers", FormValues).must(),
				word("conditions", "condition").label("conditions").many().must(),
				word("exclusions", "exclusion").label("exclusions").many().must(),
				word("shop-side", "causes").label("shop-side").many().must(), named("rules", FormInteger).must(),
				named("beside", FormTag).many(), named("instead-of", FormCoverRef).many(),
				named("left", FormRef).many().filled(), named("owner-work", FormRef).many().filled(),
				named("overridden", FormRef).many().filled(), named("troubles", FormRef).many().filled(),
				named("unseen", FormRef).many().filled(),
				Field{Name: "lots", Label: "lots", Form: FormTag, Many: true}.filled(),
				named("cures", FormRef).many().filled(), named("checks", FormRef).many().filled(),
				named("language", FormToken).filled(), shape("sentences", "sentence", "sentence").apart().filled(),
			},
			Privates: []Private{asked("holder-name"), money("price", SightHolder)},
		},
		{
			Name: "standing", Says: "what still counts", Cover: true, Lacks: standingLacks,
			Fields: []Field{
				word("to", "standing").must().asks("what becomes of the lines"), word("ground", "ended").of("ended"), labelled("covers", "lines", FormCoverRef).many().must(),
				places().ask(), named("from", FormDay).must(), named("why", FormFree).must(), named("replaced-by", FormTag),
				shape("told", "told", "said").ask(), answers(),
			},
		},
		{
			Name: "given-out", Says: "given out", Guest: true,
			Fields: []Field{
				word("paper", "paper").must(), answers(), named("as-of", FormDay).must(),
				word("reader", "reader").label("reader").must(), named("to", FormMark).must(),
				word("on", "carried-on").label("on").must(), named("to-work", FormFlag),
				named("left-out", FormRef).many().filled(), named("how-to-check", FormToken).filled(),
			},
			Privates: []Private{
				{Name: "to-name"}, {Name: "face", Sight: SightPaper}, {Name: "face-pass-on", Sight: SightPaper},
			},
		},
		{
			Name: "upkeep", Says: "kept up", Guest: true, Cover: true,
			Fields: []Field{
				word("done-by", "done-by").label("done-by").must().asks("who did it"), labelled("covers", "lines", FormCoverRef).many().must(),
				shape("looked", "", "looked").apart().must(), shape("results", "checked", "result").apart(), answers(),
			},
		},
		{
			Name: "later-work", Says: "work by others", Guest: true, Cover: true,
			Fields: []Field{
				named("done", FormDay).many().must().asks("done on which day"), shape("whose", "whose", "whose").ask(),
				shape("known", "known", "known").apart().must(), shape("found", "", "found").apart().must(),
				named("own-paper", FormFree), answers(),
			},
			Privates: shopSees("business"),
		},
		{
			Name: "transfer", Says: "sold", Cover: true,
			Fields: []Field{
				named("sold", FormDay).must().asks("sold on which day"), shape("told", "told", "said").ask(), named("from-holder", FormMark).must(),
				named("to-holder", FormMark).must(), named("same-keeper", FormFlag).or(false), named("odometer", FormOdometer),
			},
			Privates: []Private{
				asked("holder-name"), asked("holder-phone"), asked("holder-mail"), asked("holder-address"), asked("plate"),
			},
		},
		{
			Name: "claim", Says: "the holder says", Tag: Filled,
			Fields: []Field{
				word("trouble", "trouble").must().asks("which trouble"), named("noticed", FormDay).must().asks("noticed on which day"), shape("reported", "reported", "said").must(),
				places().must(), named("meanwhile", FormFree).must().asks("what was done meanwhile"), named("refused-shelter", FormFlag).or(false),
				named("weather", FormFree), named("holder", FormMark).filled(),
			},
			Privates: []Private{asked("complaint"), {Name: "claimant-name"}, {Name: "claimant-phone"}},
		},
		{
			Name: "verdict", Says: "what the certificate says",
			Fields: []Field{
				answers().must(), named("rules", FormInteger).must(), shape("judged", "", "judged").apart().must(),
				named("facts", FormRef).many().must(),
			},
		},
		{
			Name: "ruling", Says: "the shop decides", Cover: true, Lacks: rulingLacks,
			Fields: []Field{
				answers().must(), word("ruling", "ruling").must(), places(), named("why", FormFree).ask(),
				shape("told", "told", "said").must(), word("holder-says", "holder-says").label("holder-says").ask(),
				named("second", FormMark),
			},
			Privates: []Private{
				money("work-price", SightHolder), money("shop-share", SightHolder), money("holder-share", SightHolder),
			},
		},
		{
			Name: "correction", Says: "corrected", Guest: true, Cover: true, Lacks: correctionLacks,
			Fields: []Field{
				answers().must(), Field{Name: "changes", Form: FormChange}.apart().ask(), named("not-this-coach", FormFlag),
				named("why", FormFree).must(), named("found", FormFree).must(), shape("told", "told", "said"),
			},
		},
		{
			Name: "key-change", Says: "a new key", Cover: true, Lacks: keyChangeLacks,
			Fields: []Field{
				word("reason", "reason").must(), named("house", FormKeyLine).filled(), named("recovery", FormToken).filled(),
				named("accept", FormToken).filled(), named("firm", FormHead),
			},
		},
		{
			Name: "hand-over", Says: "handed over", Cover: true, Lacks: handOverLacks,
			Fields: []Field{
				shape("to", "to", "signer"), named("key", FormToken).filled(), labelled("covers", "takes", FormCoverRef).many(),
				named("open-claims", FormRef).many().none().must(), named("not-taken", FormFree),
				named("accept", FormToken).filled(),
			},
		},
		{
			Name: "take-on", Says: "taken on", Cover: true, Lacks: takeOnLacks,
			Fields: []Field{
				answers().must(), named("house", FormKeyLine).filled(), named("recovery", FormToken).filled(),
				word("own-look", "own-look").label("own-look").must(),
			},
		},
		{
			Name: "take-in", Says: "a side branch taken in", Cover: true,
			Fields: []Field{
				named("from", FormHead).filled(), named("head", FormHead).filled(), named("count", FormInteger).filled(),
				named("branch", FormToken).filled(),
			},
		},
		{
			Name: "same-coach", Says: "another ledger of this coach", Cover: true,
			Fields: []Field{
				named("ledger", FormLedger).must(), named("head", FormHead).filled(), word("goes-on", "goes-on").must(),
				named("why", FormFree).must(),
			},
		},
		{
			Name: "erased", Says: "private values are gone",
			Fields: []Field{
				answers().must(), named("names", FormToken).many().must(), word("ground", "ground").must(),
			},
		},
	}
}
