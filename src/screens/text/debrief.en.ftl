# Debrief: one finished walk, and several side by side.

debrief-head = Debrief: { $head }, { $catalogue }
debrief-all = All { $n } required checks were spoken for
debrief-skipped = { $n } of { $required } skipped: { $list }
debrief-unspoken = { $n } of { $required } unspoken: { $list }
debrief-half = { $n } of { $required } part spoken or in question: { $list }
debrief-more = { $list } and { $n } more
debrief-in-time = In time
debrief-pick = Touch a mark, or move along the line with the arrow keys; Enter plays its sound.
debrief-by-check = Check by check
debrief-who = Who reviews
debrief-to-list = Back to the list
debrief-print = Print one page
debrief-as-html = HTML
debrief-student = All walks of { $name }
debrief-missing = { $standing }: { $missing } missing
debrief-reviewed = { $standing }. Reviewer: { $reviewed }

utterances = { $n ->
    [one] { $n } utterance
   *[other] { $n } utterances
}

## What sheet and reviewer agree on

agreed-none = No reviewer has marked a check yet.
agreed = The reviewer marked { $checks }; the sheet agrees on { $agreed }.
agreed-missing = { $n ->
    [one] { $n } mark more is needed before agreement beyond chance can be told.
   *[other] { $n } marks more are needed before agreement beyond chance can be told.
}
agreed-kappa = Cohen’s kappa { NUMBER($kappa, minimumFractionDigits: 2, maximumFractionDigits: 2) }.
agreed-interval = Cohen’s kappa { NUMBER($kappa, minimumFractionDigits: 2, maximumFractionDigits: 2) } (95 % interval { NUMBER($low, minimumFractionDigits: 2, maximumFractionDigits: 2) } to { NUMBER($high, minimumFractionDigits: 2, maximumFractionDigits: 2) }).

## The reviewer’s word

correct-open = It was read wrongly
correct-kept-reading = Recorded beside the original reading.
correct-which = Which reading
correct-about = It was about
correct-no-check = no check at all
correct-place = Which one
correct-everywhere = All of them
correct-standing = The reviewer’s standing
correct-was = It was
correct-kept-standing = Recorded beside the sheet’s own standing.
correct-who-first = Say who reviews first
correct-as = Record as { $name }

## Heard, and taken for nothing

passed-over = Heard, and taken for nothing
passed-over-count = { $utterances } of { $all }

## A second reading

again-title = A second reading
again-what = Today’s reader may understand these words otherwise. The walk stays as it was recorded; the difference is shown, and kept nowhere.
again-reading = Reading …
again-read = Read its words again
again-readers = Recorded by { $was }; read now by { $now }.
again-alike = Both read these words alike.
again-check = { $check }: recorded as { $was }; would be { $now }
again-lost = Findings of the record that would not be made
again-fresh = Findings that are not in the record
again-unknown = a reader that is not on the record
again-without = the reader without scores
again-reader = reader { $version }
again-scored = { $reader } (scores { $hash })

## Check by check

table-which = Which checks
table-open = Open ({ $n })
table-all = All ({ $n })
table-none = Nothing is open.
table-skipped = Skipped, where nothing else is said:
table-reviewer = reviewer: { $standing }

## What was taught

taught = What was taught, and what was reported
taught-explained = explained, which is not checked
taught-count = { $explained } explained, { $reported } reported of { $checks }
taught-of = { $check }: { $what }
taught-class-explained = explained
taught-class-done = done
taught-class-reported = reported
talk-intention = { $words } (an intention)
talk-hypothesis = { $words } (a what-if)
talk-question = { $words } (a question)
talk-past = { $words } (about the past)
talk-hearsay = { $words } (hearsay)
told-sum = Of { $checks } checks { $explained } { $explained ->
    [one] was
   *[other] were
} explained, { $done } done and { $reported } reported. Explained is not checked.
taught-nothing = not spoken of

## The walk in time

time-line = Utterances in time
time-none = none picked
time-axis = Time axis
time-whole = Whole
time-times = { $n } times
time-counted = counted
time-nothing = heard, not counted
time-question = asked or not understood
time-finding = finding
time-hold = on hold
time-silence = long silence
time-holds = { $n ->
    [one] { $n } hold
   *[other] { $n } holds
}
time-silences = { $n ->
    [one] { $n } long silence
   *[other] { $n } long silences
}
time-sum = { $length } from begin to end, { $utterances }, { $holds }, { $silences }.
time-unknown = { $utterances } in their order. Their times are unknown: nothing can be said of the pace.

## The words

heard-none = Nothing was heard on this walk.
heard-spoken-over = Not taken: Talkround was speaking
heard-unread = Nothing was read from it
heard-by-typed = typed
heard-by-transcript = from a transcript
heard-by-sound-file = from a sound file
heard-by-embedded = heard on this device
heard-by-browser = heard by the browser
heard-by-scripted = from a script
heard-sent = { $by }, left the device to be recognised
heard-also = { $by }. Also heard as: { $words }
play = Play
play-of = Play: { $words }
play-walk = Play the walk
play-none = No sound of this walk was kept; its words alone are here.
play-not-kept = No sound was kept for these words. Sound can be kept under Settings.

## What was given back, and what words were read as

reply-tone-understood = understood
reply-tone-finding = finding recorded
reply-tone-question = I have a question
reply-tone-not-understood = not understood
reply-tone-stopped = listening stopped
reply-shown = on the screen
read-at = At { $station }
read-command = Command: { $command }
read-severity = Severity: { $severity }
read-taken-back = Takes back what was said before
read-taken-back-words = Takes back “{ $words }”
read-cleared = Said to have been cleared by maintenance
read-set-aside = { $check }: set aside, { $reason }
read-today = Today: { $what }
read-today-not = Today: not { $what }
read-asked = Asked: { $checks }?
read-or = { $one } or { $other }
read-chatter = Not about a check
read-not-understood = Not understood
read-absent = no { $what }
read-done = done, not what was found
read-good = good
read-bad = bad
read-aspects-good = { $aspects } good
read-aspects-bad = { $aspects } bad
read-of = { $of }: { $what }
read-named = named
read-unplaced = Not placed ({ $part })
read-everything = Everything at { $station }
force-intention = an intention, not counted
force-teaching = teaching, not counted
force-hypothesis = a hypothesis, not counted
force-question = a question, not counted
force-past = the past, not counted
force-hearsay = hearsay, not counted

## Side by side

several = { $walks } side by side
several-how = Oldest first. Each small line is the walk through the stations, top to bottom, on one time scale of { $length }.
several-editions = These walks were made with { $n } editions of one catalogue: a check that only one of them has is compared with nothing.
several-catalogues = These walks are by different catalogues, so their checks are not compared.
several-version = { $head }, version { $version }
several-timed = { $spoken } of { $required } in { $length }
several-untimed = { $spoken } of { $required }, times unknown
several-none-open = Nothing open
several-found = { $open }, { $findings }
several-order = Order of stations: { $order }
several-nothing = Nothing was left open on any of them.
several-left = Left open, most often first
several-left-label = Left open, by check and walk
several-check = Check
several-times = Times
pace = Pace
pace-how = Seconds at each station, holds left out; one dot for each walk, the newest filled.
pace-label = Pace, by station
pace-drawing = Seconds at each station for { $n } walks, up to { $most }
