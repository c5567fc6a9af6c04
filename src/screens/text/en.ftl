# Every sentence of Begin, Walk, Finish and Sheet, and of the frame round them.
# A message that is here and in no other language file fails tests/screens/text.test.ts.

## Words of the trade, used on every screen

standing-spoken = spoken for
standing-part = part spoken
standing-question = in question
standing-unspoken = unspoken
standing-skipped = skipped
standing-set-aside = set aside
shape-finding = finding

severity-ground = ground it
severity-defer = defer it
severity-watch = watch it
severity-note = note it
severity-none = Severity not said

circumstance-first-flight = first flight of the day
circumstance-night = night
circumstance-cold = cold weather
circumstance-after-maintenance = after maintenance
circumstance-after-squawk = after a squawk

ear-embedded = this device, without a network
ear-browser = the browser’s recogniser
ear-typed = the keyboard only
ear-file = a file

checks = { $n ->
    [one] { $n } check
   *[other] { $n } checks
}
gaps = { $n ->
    [one] { $n } gap
   *[other] { $n } gaps
}
findings = { $n ->
    [one] { $n } finding
   *[other] { $n } findings
}
stations = { $n ->
    [one] { $n } station
   *[other] { $n } stations
}
open-squawks = { $n ->
    [one] { $n } open squawk
   *[other] { $n } open squawks
}
no-gap = no gap
by-touch = by touch
by-touch-count = { $n ->
    [one] 1 answered by touch
   *[other] { $n } answered by touch
}
of-spoken = of { $required } spoken for
finding-word = { $n ->
    [one] finding
   *[other] findings
}
not-placed = Not placed
taken-back-count = { $n } taken back

## The frame

close = Close
understood = Understood
to-the-walk = To the walk
home = Talkround, begin
places = Places
place-walks = Walks
place-squawks = Squawks
place-catalogues = Catalogues
place-settings = Settings
place-school = School
opening = Opening …

## Walk

ear-starting = Starting
ear-listening = Listening
ear-speaking = Speaking
ear-held = On hold
ear-typed-now = Typing
ear-deaf = Not hearing
ear-note-starting = The ear is loading. Touch and typing count already.
ear-note-loading = The ear is loading, { $percent } % of it is here. Touch and typing count already.
ear-loaded = How much of the ear is loaded
ear-note-sent-away = { $aircraft }. The sound leaves this device.
ear-note-speaking = It does not listen to itself.
ear-note-held = Only faults are kept until you say “resume” or press it.
ear-note-typed = { $aircraft }. Words come from the keyboard.
ear-here-both = { $aircraft }. The browser’s recogniser on this device listens, and Talkround’s own beside it.
ear-here-browser = { $aircraft }. The browser’s recogniser on this device listens alone.

last-heard = Last heard
example = Say where you are and what you find: “{ $station }, { $check } good”.
put-at = { $number } { $station }
said-not-heard = Not heard, say again
said-nothing = Heard, nothing for the sheet
unheard-many = { $n } times something was said and nothing of it was understood. It is not on the sheet.
unheard-faint = The voice is faint: bring the microphone closer, or use another one.
unheard-noise = The noise is too loud: bring the microphone closer, or use another one.
unheard-voice = This voice is not known yet: speak plainly, or do the ear check.
unheard-browser = Use the browser’s recogniser
unheard-own = Use this device’s recogniser
unheard-type = Type instead
unheard-check = Ear check
check-title = Ear check
check-offer = Much of what was said on the last walk was not understood. Ten seconds may mend it:
lately = { $n ->
    [one] The last thing said
   *[other] The last { $n } said
}
lately-taken = Taken back
lately-take-back = Take it back
lately-said-of = It was said of
lately-choose = choose the check

first-use = First use
first-step = Sentence { $step } of { $of }. Say:
first-where = “now the { $station }”
first-what = “{ $check } good”
first-hold = “pause the walk”
first-over = That is all there is to it. On hold nothing counts; “continue the walk” goes on.
first-skip = Skip
first-go = To my walk

question = Question
question-how = Say it, type it or press it. Until then it does not count.

unkept = { $n ->
    [one] 1 utterance heard and not yet kept:
   *[other] { $n } utterances heard and not yet kept:
}
unkept-what = “{ $words }”. Keep the app open and say the next thing: what waits is written first.

demanded-label = Demanded by a finding
demanded = { $n ->
    [one] 1 more check demanded by a finding
   *[other] { $n } more checks demanded by a finding
}
demanded-more = and { $n } more, at their stations

where = Where are you?
where-at = { $number } { $station }
where-count = { $done } of { $required }
where-count-all = { $done } of { $required } in all
station-open = { $n } open
station-none-open = nothing open
station-not-asked = not asked today

left-here = Left here
more-here = and { $n } more here
done-here = Done here
all-said = Every check that is required today is spoken for or set aside.
next-station = Nothing open here. Next: { $station }
begin-at = Begin at { $station }

type-instead = Type instead of speaking
say = Say
wrong = That was wrong
hold = Hold
resume = Resume
listen-again = Listen again
finish-short = Finish
finish-the-walk = Finish the walk
squawk = Squawk
elsewhere = Elsewhere
today-is = Today: { $what }
today-nothing = nothing said

card-say = Say
card-of = Of
card-value = Value
card-how = How
card-measured = A measured check needs its value: say it or type it.
card-good = Good, by touch
card-good-note = Saying it is better: a touch is counted, and shown, as a touch.
card-why = Why it stays open
card-own-reason = Or in your own words
card-set-aside = Set aside
reason-not-fitted = not fitted
reason-not-reachable = not reachable today
reason-not-asked = not asked of this flight
nothing-said = Nothing was said about it.

## Begin

begin-opening = Opening the data base …
begin-which = Which aircraft?
begin-new = An aircraft not walked yet
begin-asked = { $checks } at { $stations } today
begin-catalogue-asked = { $catalogue }, { $checks } today
begin-unfinished = { $aircraft }, begun { $when }, is not finished: { $gaps } open.
begin-unfinished-uncounted = { $aircraft }, begun { $when }, is not finished.
begin-go-on = Go on with it
begin-discard = Discard it
begin-name = What do you call it? Its registration, or leave it empty.
begin-unwalked = Squawked and not yet walked: { $aircraft }.
begin-today = Today
begin-who = Who walks, and what listens: { $pilot }, { $ear }
begin-no-name = no name
begin-pilot = Pilot
begin-instructor = Instructor who listens
begin-hours = Aircraft time in service, hours
begin-words-from = Words come from
begin-carried = Carried from before
begin-carried-mark = open squawk
begin-cautions = Before you touch anything
begin-instead = Nothing to say it to?
begin-bring-in = Bring in a transcript or a sound file
begin-squawk = Report a squawk without a walk
begin-first = Never walked with it? Three sentences, under a minute
begin-voice = Or say “begin”. The microphone is on; no sound leaves this device.
begin-walk = Begin the walk
beginning = Beginning …
begin-storage = Room and storage
begin-version = New version
begin-version-load = Load the new version
begin-network = Without a network
begin-network-help = What to do about it
local-title = The browser’s recogniser on this device
local-offer = This browser can get a recogniser that works on this device: large, needs the network once, and then no sound leaves it.
local-coming = The browser is getting its recogniser. Until it is here, Talkround’s own listens.
local-yes = Get it
local-no = No

## Finish

finish-no-gap = No gap is open
finish-line = { $aircraft }: { $spoken } of { $required } checks spoken for.
finish-line-aside = { $n } set aside.
finish-line-touched = { $n ->
    [one] 1 of them by touch.
   *[other] { $n } of them by touch.
}
finish-line-finished = Finished with gaps; they stay on the sheet.
finish-no-finding = No finding
finish-gaps-head = Gaps
finish-gaps-how = Walk back and say them, or say why one stays open. A good from memory is no check.
finish-gap-part = { $missing } not said
finish-gap-result = result not said
finish-gap-question = in question
finish-gap-demanded = demanded by a finding
finish-show-gaps = Show the { $n } gaps
finish-walk-there = Walk to { $number }
finish-walk-there-long = Walk to { $number }, { $station }
finish-say-why = Why is { $check } left open?
finish-own-words = Or settle it in your own words
finish-back = Back to the walk
finish-now = Finish
finish-with = { $n ->
    [one] Finish with 1 gap
   *[other] Finish with { $n } gaps
}
finish-place = Place it
finish-place-which = Which check is it about?
finish-how-bad = How bad: { $finding }
finish-discard = Discard this walk
discard-title = Discard this walk?
discard-text = It is not offered again and counts for nothing. What was said stays in the log, and its findings stay squawks.
discard-why = Why, if you like
discard-yes = Discard it
discard-no = Keep it

decide-head = The pilot in command decides
decision-fly = Fly
decision-fly-text = I determine that it may fly.
decision-defer = Defer
decision-defer-text = It may fly within limits that an authorised person set.
decision-ground = Ground it
decision-ground-text = It does not fly until it is rectified.
decision-hand-over = Hand over
decision-hand-over-text = Somebody else decides.
decide-authority = On whose authority, and within which limits
decide-note = Note
decide-name = Name
decide-certificate = Certificate number, where given
decide-unplaced = A finding is not placed yet: give it its check above, then sign.
decide-later = Sign it later
decide-sign = Sign
decide-signed = Signed by { $name }.
decide-see = See the sheet

## Sheet

sheet-opening = Opening the walk …
head-no-pilot = pilot not named
head-pilot = pilot { $pilot }
head-instructor = instructor { $instructor }
head-hours = { $hours } h
sheet-findings = Findings
sheet-no-finding = No finding was spoken.
sheet-skipped = Skipped
sheet-print = Print ({ $paper })
paper-a4 = A4
paper-letter = Letter
sheet-pdf = PDF
sheet-form = Form for the workshop (PDF)
sheet-csv = Table (CSV)
sheet-json = Data (JSON)
sheet-debrief = Debrief
sheet-sign = Decide and sign
sheet-sign-note = This walk is not signed.
sheet-discarded = This walk was discarded: it counts for nothing. What was said stays here.
sheet-discarded-why = This walk was discarded ({ $why }): it counts for nothing. What was said stays here.
sheet-went = How the walk went
sheet-decision = Decision
sheet-not-stated = Not stated
sheet-decides-fly = { $by } decides to fly
sheet-decides-defer = { $by } decides to defer
sheet-decides-ground = { $by } decides to ground it
sheet-decides-hand-over = { $by } decides to hand over
sheet-authority = , on the authority of { $authority }
sheet-signed = Signed
sheet-not-signed = Not signed
sheet-left = Left open
sheet-by-touch = By touch
sheet-foot = Talkround says what was and was not spoken for. Whether the aircraft is in condition for safe flight is for the pilot in command to determine (14 CFR 91.7).
sheet-doubt = This sheet is in doubt
sheet-added = Added to this walk
sheet-version = Another version of this walk
sheet-version-open = Open that version
sheet-beside = Said beside this walk
sheet-beside-note = None of it changes what was spoken for.
sheet-why = Why
sheet-reviewed = Reviewed
told-reported = Reported
told-done = Done
told-explained = Explained, not counted
sheet-contradicted = Contradicted later: the worse reading stands until it is settled.
sheet-taken-back-line = Taken back.
sheet-from-reporter = reporter’s severity
sheet-from-catalogue = proposed by the catalogue
sheet-from-before = as you rated it on { $on }
sheet-cleared = Said to have been cleared by maintenance: “{ $words }”
sheet-from-measure = (out of limits)
sheet-unplaced = Not placed: it needs its check before the walk can be signed.
sheet-tally = { $spoken } of { $required }
sheet-missing = { $standing }: { $missing } missing
sheet-reviewer = Reviewer: { $standing }.
sheet-measured = Measured: { $what }
sheet-required = Required because: { $because }
sheet-to-say = To say: { $what }.
sheet-places = At: { $what }.
sheet-acts = How: { $what }.

plan-label = Walk round the { $kind ->
    [helicopter] helicopter
    [aeroplane] aeroplane
    [glider] glider
    [gyroplane] gyroplane
   *[other] aircraft
}: { $stations }
plan-so-far = { $plan }; { $spoken } of { $required } checks spoken for.
plan-here = Now at { $station }.

## Keys and devices

key-own = This device’s key
key-own-note = What is signed here is sealed with it. Read the words to whoever brings your walks in or lets this device into theirs, or let their camera read the code: the same words on both devices, and it is yours.
key-called = What this device is called
key-code = QR code of the words { $words }
key-met = Devices met
key-nameless = Device { $device }
key-since = since { $when }
key-changed = A new key of a device that was known by another. Do not believe it before its holder has read you the words.
key-compared = We compared the words

shared-head = Devices of this walk
shared-only = Only this device adds to it.
shared-line = let in by { $by }, { $when }; { $n ->
    [one] 1 utterance counts
   *[other] { $n } utterances count
}
shared-waiting = Device { $device } sent { $n ->
    [one] 1 event
   *[other] { $n } events
}, counted nowhere: it was not let in.
shared-give = Give it this walk (a file)
shared-given = Bring { $file } in on the other device, open the walk there and go on with it.
shared-guest = This walk was begun on another device, which let this one in. It is finished, decided and signed there.
shared-guest-over = This walk was begun on another device and is over: nothing more is added here.
shared-go-on = Go on with it here
shared-hand-over = Hand over
shared-hand-over-note = “Hand over” seals what was said here and makes a file. Bring it in on the device that began the walk; only then it counts there.
shared-handed = Sealed. Bring { $file } in on the device that began the walk, before it is signed.
second-device = Second device
finish-guest = This walk is finished on the device that began it. Hand over what was said here, and bring the file in there before it is signed.

let-in-offer = Let another device in
let-in-note = What it adds then counts in this walk as if it had been said here. Which device?
let-in-code = Or paste what a camera reads from its code, under Settings on the other device
let-in-read = Read the code
let-in-compare = Hold the two devices side by side. Does { $name } show these words under Settings? A camera reads them from the code as well.
let-in-by = Who lets it in
let-in-same = The same words: let it in
let-in-other = They differ

## A note after signing

amend-offer = Add a note after signing
amend-note = It stands beside the signed walk, with your name and the time. Nothing that was signed changes.
amend-words = Note
amend-by = Name
amend-squawk = A fault that was found since then is a squawk: report it.
amend-add = Add the note

## Settings

language = Language of the screen
language-note = Speaking and listening stay English: the recogniser, what is answered and the catalogues.

agree-title = The sound leaves this device
agree-yes = Yes, use it
agree-no = No, stay on this device

## Pictures of a finding

picture-take = Photograph
picture-take-of = Photograph: { $of }
picture-file = From a file
picture-file-of = Picture from a file: { $of }
picture-busy = Reading …
picture-kept = The picture of { $of } is kept.
picture-of = Picture { $n } of { $of }
picture-gone = A picture was taken, and it is not on this device.
picture-no = A picture was taken that cannot be shown here.
picture-erased = A picture was erased on request: { $why }.
picture-erase = Erase this picture …
picture-erase-note = It is erased for good, here and in the second copy. The record goes on saying that it was there, and why it was erased. Backups that were made before are not touched.
picture-erase-why = Why is it erased?
picture-erase-yes = Erase it
