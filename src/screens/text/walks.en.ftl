# Walks, Student and what was learned.

## Words of several screens

stop = Stop
aircraft = Aircraft
catalogue = Catalogue
walks-opening = Opening the walks …
walks-count = { $n ->
    [one] { $n } walk
   *[other] { $n } walks
}

## Walks

walks-none = No walk is kept on this device yet. { $begin }, or bring one in.
walks-begin = Begin one
walks-side = Side by side: { $aircraft }, { $when }
walks-untimed = times unknown
walks-counting = counting …
walks-state-walking = not finished
walks-state-finished = not signed
walks-state-signed = signed
walks-state-discarded = discarded
walks-brought = { $state }, brought in
walks-debrief = Debrief { $aircraft }, { $when }
walks-older = Show older, { $shown } of { $all } are here
walks-pick = To compare walks, tick two or more
walks-compare = Compare { $n } walks
walks-keep = Keep it safe
walks-keep-note = Everything stays on this device. A browser may delete it when it is short of room or, on some phones, after seven days without use; a backup is one file.
walks-back-up = Back up to a file
walks-backed-up = { $file } holds every walk, squawk and catalogue of this device.

bring-in = Bring in
bring-in-what = Transcripts (VTT, SRT or plain text) and sound files of walks, a catalogue (YAML or JSON), or a backup from another device.
bring-in-choose = Choose files, or drop them here
bring-in-reading = Reading { $file } …
bring-in-which = { $n } of { $all }, { $file }: { $text }
bring-in-stopped = Stopped: { $done } of { $all } are in.

whose = { $n ->
    [one] Whose walk is it?
   *[other] Whose walks are they?
}
whose-flew = Who flew
whose-taught = Who taught (may be left out)
whose-hours = Aircraft hours (may be left out)
whose-when-name = When: { $file } (by its name)
whose-when-date = When: { $file } (by its date)
whose-take = { $n ->
    [one] Bring it in
   *[other] Bring in { $n } walks
}
whose-leave = Leave it

## Student

student-latest = { $walks }, the latest { $n } of them here
student-none = No walk of { $name } is kept on this device.
student-every = Every walk, latest first
student-spoken = { $spoken } of { $required } spoken for
student-told = { $explained } explained, { $reported } reported
student-next = For the next lesson
student-one = One walk shows no habit yet.
student-no-habit = Nothing was left open more than once.
student-again = Left open again and again
student-of = { $catalogue }, { $walks }.
student-habit = { $check }: open on { $open } of { $of }, explained on { $explained }, reported on { $reported }

## What was learned

learned-none = Nothing is learned here.
learned = What was learned
learned-on = What was learned on { $aircraft }
learned-opening = Opening what was learned …
learned-give = Give away
learned-squawks = Squawks of { $aircraft }
learned-asked = Taken only with your yes
learned-asked-what = From now on these words would be good, harmless, or a fault called milder:
learned-take = Take them too
learned-leave = Leave them out
learned-no-aircraft = No aircraft is known on this device yet.
learned-nothing = Nothing on { $aircraft }.
learned-what = What an answer or a correction on a walk tells about your words is kept here.
learned-nameless = Walks without a name
learned-forget = Forget
learned-forgotten = Forgotten
learned-again = Learn it again
learned-press = { $act }: “{ $phrase }”
quoted = “{ $words }”
learned-when = learned on { $day }
learned-question = asked “{ $question }”
learned-said = said “{ $words }”
