# Every sentence of the workshop, where catalogues are written.

## The shelf

shop-none = Catalogues cannot be changed here.
shop-shelf = What has to be checked on each type of aircraft.
shop-drafts = Drafts
shop-without-name = Without a name
shop-draft-changed = changed { $at }
shop-draft-drop = Drop
shop-draft-drop-name = Drop the draft { $name }
shop-here = On this device
shop-book-starter = came with Talkround
shop-book-away = put away
shop-change = Change it
shop-copy = Begin one from it
shop-give-file = Give away as a file
shop-give-code = Show as a code
shop-offer-again = Offer it again
shop-put-away = Put away
shop-aircraft = Aircraft that are walked by it, with commas between
shop-editions = Editions
shop-edition = Edition { $edition }
shop-version = Version { $version }
shop-edition-current = walked now
shop-edition-withdrawn = withdrawn
shop-edition-from = From { $by }, key { $key }.
shop-edition-walks = { $n ->
    [one] { $n } walk made with it.
   *[other] { $n } walks made with it.
}
shop-somebody = somebody
shop-withdraw = Withdraw
shop-withdraw-name = Withdraw { $name }
shop-bring-back = Bring back
shop-bring-back-name = Bring back { $name }
shop-delete = Delete
shop-delete-name = Delete { $name }
shop-code-too-large = This catalogue is too large for a code; give it as a file.
shop-code-label = Code that holds { $name }
shop-code-how = Scan it with the camera of another phone that can reach this address.
shop-code-drawing = Drawing the code …
shop-code-reading = Reading the code …

## A new draft

shop-new = A new one
shop-paste = Paste or drop the printed checklist, or a table
shop-make = Make a draft of it
shop-read-file = Read a file
shop-dictate = Dictate it
shop-dictate-stop = Stop dictating
shop-dictate-how = Dictate “new station, left wing”, then “check, pitot tube, cover off and clear”. The recogniser of this device knows the words of the catalogues that are here; for other words choose the browser’s recogniser in the settings.
shop-nothing-name = Or begin with nothing: its name
shop-nothing-kind = Kind
shop-nothing-begin = Begin with nothing
shop-file-large = { $file } has { $size } MB; a checklist of at most { $most } MB is read. Paste the part that is the checklist.
shop-file-no-text = { $file } is not text. Open it, copy the checklist and paste it here.
shop-kind-aeroplane = Aeroplane
shop-kind-helicopter = Helicopter
shop-kind-glider = Glider
shop-kind-gyroplane = Gyroplane
shop-kind-other = Other

## What came from elsewhere

shop-offer-none = Nothing waits to be taken
shop-to-shelf = To the catalogues
shop-offer-version = { $name }, version { $version }
shop-offer-size = { $stations }, { $checks }.
shop-offer-for = For { $aircraft }.
shop-offer-new = There is no catalogue of this kind on this device yet.
shop-offer-in-place = It takes the place of the one that is here
shop-offer-walks = For walks to come. Walks that were made keep the edition they were made with.
shop-same = It means the same as the one that is here.
shop-take = Take it
shop-take-in-place = Take it in its place
shop-leave = Leave it
shop-unsigned = Nobody signed this file. Take it only from somebody you know.
shop-nameless = somebody who gives no name
shop-signed = Signed by { $by }, on the device with the key { $key }, and unchanged since.
shop-key-same = The edition that is here came from the same device.
shop-key-other = The edition that is here came from another device: ask { $by } whether the key is theirs.
shop-key-unknown = Whose key it is, only { $by } can tell you.

## A draft

shop-draft = A draft
shop-draft-opening = Opening the draft …
shop-confirmed = Nothing is left to confirm.
shop-to-confirm = { $n ->
    [one] { $n } guess to confirm.
   *[other] { $n } guesses to confirm.
}
shop-remarks = { $n ->
    [one] { $n } remark on names and limits.
   *[other] { $n } remarks on names and limits.
}
shop-view-forms = Stations and checks
shop-view-file = The file
shop-undo = Undo
shop-redo = Redo
shop-publish-open-it = Give out …
shop-editor-opening = Opening the editor …
shop-unreadable = The file cannot be read as it stands; mend it under “The file”.
shop-yaml = The catalogue’s file, as YAML
shop-left = Lines of the text that became nothing: { $n }

## About the catalogue

shop-about = About this catalogue
shop-about-name = Its name
shop-about-kind = Kind: picks the plan
shop-about-source = Its source: which checklist, of which date
shop-about-licence = Licence: on what terms it may be given away
shop-about-notice = Notice, shown on every sheet
shop-about-caution = Caution { $n }
shop-about-caution-more = One more caution, read out before the walk
shop-about-in-order = The stations are walked in this order
shop-gauges = Gauges
shop-gauges-help = Scales said in words, such as how far a belt gives. A value is then measured on the gauge and not in a unit.
shop-gauge = Gauge
shop-gauge-steps = Steps of { $name }, the lowest first, with commas between
shop-gauge-out = Take the gauge { $name } out
shop-gauge-add = Add a gauge
shop-signs-shared = Signs of the whole catalogue
shop-signs-shared-help = Each is written once here and ticked at the checks where it may be found.
shop-sign-add-shared = Add a sign of the catalogue

## In walking order, and on the plan

shop-outline = Stations and checks, in walking order
shop-grip = Move { $name }: drag it, or use the arrow keys
shop-moved-station = { $name } is station { $n } of { $of } now.
shop-moved-check = { $name } is check { $n } at { $station } now.
shop-guesses = { $n ->
    [one] { $n } guess
   *[other] { $n } guesses
}
shop-by-ear = by ear
shop-check-add = Add a check to { $name }
shop-station-add = Add a station
shop-plan = Plan: drag a station, or move it with the arrow keys
shop-plan-station = Station { $n }, { $name }: { $x } across, { $y } back
shop-plan-moved = { $name }: { $x } across, { $y } back.
# Names that a new thing has until its author gives it one. They stand in the catalogue, which is English.
shop-check-new = New check
shop-station-new = New station
shop-sign-new = new sign
shop-measure-new = quantity
shop-gauge-new = new gauge
shop-gauge-low = low
shop-gauge-high = high

## A station

shop-station = Station
shop-station-number = Station { $n }
shop-station-name = Name of the station
shop-station-caution = Caution, read out on arrival
shop-station-in-order = Its checks are done in this order
shop-station-out = Take the station out

## A check

shop-check = Check
shop-check-nameless = A check
shop-guessed = Guessed from the text
shop-right = It is right so
shop-name = Name
shop-means = means: { $read }
shop-say-people = Other names that people say, with commas between
shop-say = Other names, with commas between
shop-aspects = To be spoken for each, with commas between
shop-aspects-help = Such as condition, slack. Left out: any result that names the check speaks for it.
shop-aspects-more = Other words for each of them
shop-aspect-say = Other names of { $name }
shop-aspect-conditions = Conditions that speak about { $name }, by their id
shop-conditions-help = Such as crack, leak, chafing.
shop-acts = How it is done
shop-act-look = Look
shop-act-feel = Feel
shop-act-move = Move
shop-act-measure = Measure
shop-act-listen = Listen
shop-places = Places: a number, or their names with commas between
shop-places-sides = The same on each of these sides, with commas between
shop-places-sides-help = Such as left, right: two of each are four places.
shop-places-plural = The plural alone speaks for all of them
shop-places-plural-help = “Brake lines good” is then enough; otherwise “both”, “all”, a number or each name is needed.
shop-required = Required
shop-required-when = When
shop-required-always = Always
shop-required-follow-up = Only when a sign demands it
shop-required-some = On some occasions
shop-mandatory = Mandatory safety item
shop-mandatory-help = Such as the magnetos off: said back as such when it is spoken for.
shop-blanket = A verdict over the whole station speaks for it
shop-blanket-help = “Everything on the tail boom is good” is enough; otherwise it asks to be named.
shop-optional = May not be fitted
shop-optional-help = It may be set aside as not fitted.
shop-caution = Caution, read out before the act
shop-source-check = Source: where it comes from
shop-jasc = JASC code
shop-jasc-help = Such as 6210 for main rotor blades.
shop-check-out = Take the check out
shop-check-only = A station has at least one check; take the station out instead.
shop-more-of = More of { $name }
shop-take-out = Take out

## What is measured

shop-measures = What is measured
shop-measure = What
shop-measure-add = Add a value
shop-measure-out = Take the value { $name } out
shop-unit = In
shop-unit-quarts = quarts
shop-unit-gallons = gallons
shop-unit-litres = litres
shop-unit-psi = psi
shop-unit-bar = bar
shop-unit-inches = inches
shop-unit-mm = mm
shop-unit-cm = cm
shop-unit-volts = volts
shop-unit-celsius = °C
shop-unit-fahrenheit = °F
shop-unit-kg = kg
shop-unit-pounds = pounds
shop-unit-percent = percent
shop-unit-other = another unit
shop-unit-code = The unit, by its UCUM code
shop-unit-code-help = Such as [pt_us] for pints.
shop-no-unit = no unit
shop-no-limit = no limit
shop-low = At least
shop-high = At most

## What may be found

shop-signs = What may be found
shop-sign = Sign
shop-sign-conditions = Words that mean it here, by their id
shop-sign-caution = Caution, read out when it is found
shop-sign-add = Add a sign of this check
shop-sign-out = Take the sign { $name } out
shop-usually = Usually
shop-usually-ask = ask the speaker
shop-usually-ground = ground it, as the format has it
shop-suggests = Suggests
shop-demands = Demands the check
shop-demands-these = Demands the check: { $names }
shop-demands-label = { $name } demands the check
shop-demands-choose = add one, or take one out
shop-demands-out = { $name } (take out)
shop-anywhere = May be told without a check
shop-anywhere-help = Such as “we had a hard landing”.

## Hear it

shop-sounds = How it sounds
shop-sounds-aloud = Say it aloud
shop-sound = { $word }: { $by }
shop-by-author = as you wrote it
shop-by-dictionary = from the dictionary
shop-by-spelling = guessed from its spelling
shop-sound-guessed = The dictionary does not know this word. Mend its phones where they are wrong.
shop-voiceless = This device has no voice to say it with.
shop-hear = Hear it
shop-hear-nothing = Nothing to mend.
shop-sort-error = To be mended:
shop-sort-doubt = Perhaps a slip:
shop-sort-by-ear = By ear:
shop-sort-line = Line { $line }. { $sort }
shop-try = Try a sentence
shop-try-at = Said at
shop-try-anywhere = anywhere
shop-try-it = Try it
shop-proof = Proof walk
shop-proof-all = { $n ->
    [one] { $n } sentence read; understood.
   *[other] { $n } sentences read; all understood.
}
shop-proof-missed = { $n ->
    [one] { $n } sentence read; { $missed } not understood:
   *[other] { $n } sentences read; { $missed } not understood:
}
shop-read-as = was read as: { $read }
shop-say-it = Say it
shop-say-aloud = Say “{ $words }” aloud

## Give it out

shop-publish = Give out
shop-publish-version = Give out version { $version }
shop-publish-open = { $n ->
    [one] One guess is not confirmed yet.
   *[other] { $n } guesses are not confirmed yet.
}
shop-publish-first = The first edition of this catalogue.
shop-publish-different = What is different
shop-publish-walks = Walks that were made keep the edition they were made with.
shop-publish-by = Given out by
shop-publish-why = Why

## At a sheet's foot, and where a check stands on it

shop-foot-catalogue = { $version ->
    [none] Catalogue: { $name } (edition { $edition }).
   *[other] Catalogue: { $name }, { $version } (edition { $edition }).
}
shop-foot-version = version { $version }
shop-foot-version-of = version { $version } of { $on } by { $by }
shop-foot-unknown = unknown
shop-foot-source = Source: { $source }
shop-foot-sources = { $more ->
    [0] Sources of single checks: { $sources }.
   *[other] Sources of single checks: { $sources }; and { $more } more.
}
shop-foot-licence = Licence: { $licence }

## Given with what was learned

shop-give-learned = { $n ->
    [one] One thing was learned on { $aircraft } about what people’s words mean. With it, the file names who said it.
   *[other] { $n } things were learned on { $aircraft } about what people’s words mean. With them, the file names who said them.
}
shop-give-alone = The catalogue alone
shop-give-with = With what was learned
shop-offer-learned = What was learned comes with it
shop-offer-phrases = { $n ->
    [0] Nothing new that is taken without a yes.
    [one] One phrase is taken with it.
   *[other] { $n } phrases are taken with it.
}
shop-offer-asks = From then on these words would be good, harmless, or a fault called milder:
shop-offer-asks-yes = Take these too
shop-offer-moves = Walked by another catalogue here
shop-offer-move = { $aircraft }: by { $from } so far, by this one from then on.

## Said with one's own voice

shop-own-say = Say “{ $name }” yourself
shop-own-which = Which name
shop-own-stop = Stop listening
shop-own-starting = The recogniser of this device is being loaded.
shop-own-listening = Say “{ $name }”.
shop-own-hearing = Hearing you.
shop-own-as-heard = “{ $name }” was heard.
shop-own-as-other = “{ $name }” was taken for “{ $other }”.
shop-own-as-not = “{ $name }” was not heard.
shop-own-faint = The voice was faint: bring the microphone closer, and say it again.
shop-own-noisy = It was too noisy to go by: say it again where it is quieter.
shop-own-sounds = The sounds that were heard: { $sounds }
shop-own-mend = Mend a word from what was heard, then say it again. What is written here counts beside the dictionary.
shop-own-write = “{ $word }” sounds { $sounds }
