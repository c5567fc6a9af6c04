# The school: its desk, its people and devices, and joining it.

school-cannot = This app cannot be in a school.
school-none = This device is in no school. A phone joins by the code that the desk shows; the page has to come from the school’s own server.
school-outside = { $school }: a phone joins by the code that the desk shows. To use this device as a desk, sign in with a phone that is in.
school-use-desk = Use this device as a desk
school-by-passkey = Sign in with a passkey
school-scan-desk = Scan this with your own phone, or type the number there under School, Sign a desk in.
school-resting = Everything is up, and everything that is yours is here.
school-busy = Talking to the school …
school-away = { $why } It is tried again by itself; nothing is lost meanwhile.
school-who = { $who }: { $roles }.
school-who-until = { $who }: { $roles }. Signed in until { $when }.
school-shared = A phone that the pilots share
school-told = { $n } to look at
school-ask = Ask the school now
school-let = Sign a desk in
school-sign-out = Sign out
school-leave = Leave the school

role-pilot = pilot
role-instructor = instructor
role-maintenance = maintenance
role-chief = chief

code-drawn = QR code: { $link }
code-good = Good once, until { $when }.

## Walks as they arrive

arrivals-label = Walks as they arrive
arrivals-none = None has come yet.
arrivals-walking = walking now
arrivals-finished = finished
arrivals-signed = signed
arrivals-at = { $state }, at { $station }
arrivals-nameless = no name
arrivals-events = { $n ->
    [one] { $n } event
   *[other] { $n } events
}

## Aircraft

fleet = Fleet
fleet-no-walk = no walk here
fleet-last = last walk { $when }
fleet-no-squawk = no open squawk
fleet-squawks = { $open }: { $titles }
fleet-deferred = { $title }: deferred until { $day }.
fleet-value = { $name }: { $text }
fleet-was = before: { $names }
fleet-walking = being walked since { $when }
fleet-unlisted = not in the school’s list
fleet-near = { $name }: { $value } on { $when }, near its limit of { $limit }.
fleet-past = { $name }: { $value } on { $when }, past its limit of { $limit }.
fleet-retired = { $n } retired
fleet-name = Name or registration
fleet-catalogue = Walked with
fleet-add = Add an aircraft
fleet-added = { $name } is in the list: every phone offers it as soon as it asks.
fleet-list-it = Take into the list
fleet-rename = Rename
fleet-rename-what = What was said under the old name stays its own.
fleet-retire = Retire
fleet-bring-back = Bring back
fleet-no-catalogue = Give a catalogue to the phones first, below; then aircraft can be listed.

## Passkeys

passkeys = Passkeys
passkeys-none = You have none yet. With one you sign a desk in without your phone.
passkeys-name = What to call this passkey
passkeys-add = Add a passkey
passkeys-added = Added. It signs you in at any desk of this address.
passkeys-unused = added { $when }, not used yet
passkeys-used = used { $when }
passkeys-copied = It counted backwards and may have been copied: it is shut. Remove it, and add a new one.
passkeys-remove = Remove
passkeys-remove-which = Remove { $name } of { $person }
passkeys-removed = { $name } signs nobody in any more; the desks that it signed in are signed out.

## Learned elsewhere

offers = Learned on other devices
offers-what = The school passes these on. Nothing of it counts on this device before you say yes.
offers-of = { $aircraft }: { $n ->
    [one] { $n } phrase
   *[other] { $n } phrases
}
offers-forgotten = forgotten by who taught it
offers-take = Take all of { $aircraft }

## People

people = People
people-no-role = no role
people-change = Change
people-change-of = Change { $name }
people-roles = Roles
people-students = Students
people-voice = Their sound may be kept
people-code = Code for their phone
people-code-what = Scan this with { $name }’s own phone.
people-code-shared = Code for a shared phone
people-code-shared-what = Scan this with a phone that the pilots share.
people-erase = Erase their sound and pictures everywhere
people-erased = { $n ->
    [one] { $n } recording or picture of { $name } is erased here, and on every device as soon as it asks.
   *[other] { $n } recordings and pictures of { $name } are erased here, and on every device as soon as it asks.
}
people-gone = Has left the school
people-erase-phrases = Erase what they taught
people-phrases-erased = { $n ->
    [one] { $n } phrase of { $name } is erased at the school, and forgotten on every device as soon as it asks.
   *[other] { $n } phrases of { $name } are erased at the school, and forgotten on every device as soon as it asks.
}
people-name = Name, as it is said on walks
people-role = Role
people-add = Add

## Devices

phones = Devices
phones-shut = { $device } is shut out: nothing of it enters any more.
phones-desk = desk, { $person }
phones-phone = phone, { $person }
phones-shared = shared
phones-unseen = not seen yet
phones-seen = seen { $when }
phones-has = { $device } has edition { $n } of { $catalogue }
phones-has-none = { $device } has no edition of { $catalogue }
phones-waiting = { $has }, edition { $n } is waiting
phones-refused = { $n } not taken
phones-why = { $when }: { $why }
phones-shut-out = Shut out
phones-shut-out-of = Shut { $device } out
phones-shut-since = shut out { $when }

## Catalogues

editions-none = not given to the phones yet
editions-walks = the school walks with edition { $n }
editions-give = Give this device’s edition to every phone
editions-given = { $catalogue }: edition { $n } is the one that walks are begun with.

## What is kept

terms = Privacy
terms-sound = The school keeps sound
terms-days = Days until it is erased; empty: never by itself
terms-phrases = Who gets what somebody’s words were told to mean
terms-phrases-none = nobody
terms-phrases-own = that person’s own devices
terms-phrases-aircraft = all who walk the aircraft
terms-instructors = Instructors may hear their students
terms-chief = The chief may hear
terms-save = Keep these terms
terms-saved = Who joins from now on reads these sentences first.
terms-words-only = The school keeps the words of your walks and no sound. The sound stays on this phone.
terms-keeps = The school keeps the words and the sound of your walks.
terms-until-asked = The sound is kept until somebody has it erased.
terms-erased = { $n ->
    [one] The sound is erased everywhere after { $n } day.
   *[other] The sound is erased everywhere after { $n } days.
}
terms-nobody = Nobody but you may hear it.
terms-instructor-hears = Besides you, your instructor may hear it.
terms-chief-hears = Besides you, the chief of the school may hear it.
terms-both-hear = Besides you, your instructor and the chief of the school may hear it.
terms-pictures = Who may read your walk sees its pictures; those of a squawk everybody at the school sees.
terms-pictures-until-asked = The pictures are kept until somebody has them erased.
terms-pictures-erased = { $n ->
    [one] The pictures are erased everywhere after { $n } day, but not while their squawk is open.
   *[other] The pictures are erased everywhere after { $n } days, but not while their squawk is open.
}
terms-erase = You can have your sound and your pictures erased at any time: from the server and from every device.
terms-stay = Your instructor reads the words of your walks. The words stay in the record of the aircraft.
terms-phrases-none-told = What your words were told to mean is passed on to no other device.
terms-phrases-own-told = What your words were told to mean goes to your own devices, and to no one else’s.
terms-phrases-aircraft-told = What your words were told to mean, with the words, goes to all who walk the aircraft.

## Joining

join-asking = Asking the school …
join = Join { $school }
join-shared = As a phone that the pilots share.
join-as = As { $person }: { $roles }.
join-phone = Phone
join-called = What this device is called at the desk
join-yes = I have read this: join
join-no = Do not join

let-done = { $desk } is signed in as you for a working day.
let-what = The desk that shows this code will see and do what { $name } may. Do it only when you stand before it.
let-what-nameless = The desk that shows this code will see and do what the holder of this phone may. Do it only when you stand before it.
let-code = Code on the desk’s screen
let-yes = Sign this desk in as me
