# Die Schule: ihr Arbeitsplatz, ihre Leute und Geräte, und wie man beitritt.

school-cannot = Diese App kann in keiner Schule sein.
school-none = Dieses Gerät ist in keiner Schule. Ein Telefon tritt mit dem Code bei, den der Arbeitsplatz zeigt; die Seite muss vom Server der Schule kommen.
school-outside = { $school }: Ein Telefon tritt mit dem Code bei, den der Arbeitsplatz zeigt. Um dieses Gerät als Arbeitsplatz zu benutzen, mit einem Telefon anmelden, das schon dabei ist.
school-use-desk = Dieses Gerät als Arbeitsplatz benutzen
school-by-passkey = Mit einem Passkey anmelden
school-scan-desk = Mit Ihrem eigenen Telefon lesen, oder die Zahl dort unter „Schule“, „Einen Arbeitsplatz anmelden“ eingeben.
school-resting = Alles ist übertragen, und alles, was Ihres ist, ist hier.
school-busy = Spricht mit der Schule …
school-away = { $why } Es wird von selbst wieder versucht; inzwischen geht nichts verloren.
school-who = { $who }: { $roles }.
school-who-until = { $who }: { $roles }. Angemeldet bis { $when }.
school-shared = Ein Telefon, das die Piloten teilen
school-told = { $n } zum Ansehen
school-ask = Die Schule jetzt fragen
school-let = Einen Arbeitsplatz anmelden
school-sign-out = Abmelden
school-leave = Die Schule verlassen

role-pilot = Pilot
role-instructor = Lehrer
role-maintenance = Instandhaltung
role-chief = Leitung

code-drawn = QR-Code: { $link }
code-good = Gilt einmal, bis { $when }.

## Rundgänge, wie sie eintreffen

arrivals-label = Rundgänge, wie sie eintreffen
arrivals-none = Noch keiner ist gekommen.
arrivals-walking = läuft gerade
arrivals-finished = abgeschlossen
arrivals-signed = unterschrieben
arrivals-at = { $state }, bei { $station }
arrivals-nameless = kein Name
arrivals-events = { $n ->
    [one] { $n } Ereignis
   *[other] { $n } Ereignisse
}

## Luftfahrzeuge

fleet = Flotte
fleet-no-walk = hier kein Rundgang
fleet-last = letzter Rundgang { $when }
fleet-no-squawk = keine offene Beanstandung
fleet-squawks = { $open }: { $titles }
fleet-deferred = { $title }: aufgeschoben bis { $day }.
fleet-value = { $name }: { $text }
fleet-was = früher: { $names }
fleet-walking = Rundgang läuft seit { $when }
fleet-unlisted = nicht in der Liste der Schule
fleet-near = { $name }: { $value } am { $when }, nahe an der Grenze von { $limit }.
fleet-past = { $name }: { $value } am { $when }, über die Grenze von { $limit } hinaus.
fleet-retired = { $n } außer Dienst
fleet-name = Name oder Kennzeichen
fleet-catalogue = Rundgang nach
fleet-add = Luftfahrzeug hinzufügen
fleet-added = { $name } steht in der Liste: jedes Telefon bietet es an, sobald es fragt.
fleet-list-it = In die Liste nehmen
fleet-rename = Umbenennen
fleet-rename-what = Was unter dem alten Namen gesagt wurde, gehört weiter dazu.
fleet-retire = Außer Dienst stellen
fleet-bring-back = Wieder in Dienst stellen
fleet-no-catalogue = Zuerst unten den Telefonen einen Katalog geben; dann lassen sich Luftfahrzeuge eintragen.

## Passkeys

passkeys = Passkeys
passkeys-none = Sie haben noch keinen. Mit einem melden Sie einen Arbeitsplatz ohne Ihr Telefon an.
passkeys-name = Wie dieser Passkey heißen soll
passkeys-add = Passkey hinzufügen
passkeys-added = Hinzugefügt. Er meldet Sie an jedem Arbeitsplatz dieser Adresse an.
passkeys-unused = hinzugefügt { $when }, noch nicht benutzt
passkeys-used = benutzt { $when }
passkeys-copied = Er zählte rückwärts und kann kopiert worden sein: er ist gesperrt. Entfernen, und einen neuen hinzufügen.
passkeys-remove = Entfernen
passkeys-remove-which = { $name } von { $person } entfernen
passkeys-removed = { $name } meldet niemanden mehr an; die Arbeitsplätze, die damit angemeldet waren, sind abgemeldet.

## Anderswo gelernt

offers = Auf anderen Geräten gelernt
offers-what = Die Schule gibt dies weiter. Nichts davon zählt auf diesem Gerät, bevor Sie Ja sagen.
offers-of = { $aircraft }: { $n ->
    [one] { $n } Ausdruck
   *[other] { $n } Ausdrücke
}
offers-forgotten = vergessen von dem, der es lehrte
offers-take = Alles von { $aircraft } nehmen

## Leute

people = Leute
people-no-role = keine Aufgabe
people-change = Ändern
people-change-of = { $name } ändern
people-roles = Aufgaben
people-students = Schüler
people-voice = Der Ton darf behalten werden
people-code = Code für das eigene Telefon
people-code-what = Mit dem eigenen Telefon von { $name } lesen.
people-code-shared = Code für ein geteiltes Telefon
people-code-shared-what = Mit einem Telefon lesen, das die Piloten teilen.
people-erase = Ton und Bilder überall löschen
people-erased = { $n ->
    [one] { $n } Aufnahme oder Bild von { $name } ist hier gelöscht, und auf jedem Gerät, sobald es fragt.
   *[other] { $n } Aufnahmen und Bilder von { $name } sind hier gelöscht, und auf jedem Gerät, sobald es fragt.
}
people-gone = Hat die Schule verlassen
people-erase-phrases = Löschen, was gelehrt wurde
people-phrases-erased = { $n ->
    [one] { $n } Ausdruck von { $name } ist bei der Schule gelöscht, und auf jedem Gerät vergessen, sobald es fragt.
   *[other] { $n } Ausdrücke von { $name } sind bei der Schule gelöscht, und auf jedem Gerät vergessen, sobald es fragt.
}
people-name = Name, wie er auf Rundgängen gesagt wird
people-role = Aufgabe
people-add = Hinzufügen

## Geräte

phones = Geräte
phones-shut = { $device } ist ausgesperrt: nichts davon kommt mehr herein.
phones-desk = Arbeitsplatz, { $person }
phones-phone = Telefon, { $person }
phones-shared = geteilt
phones-unseen = noch nicht gesehen
phones-seen = gesehen { $when }
phones-has = { $device } hat Fassung { $n } von { $catalogue }
phones-has-none = { $device } hat keine Fassung von { $catalogue }
phones-waiting = { $has }, Fassung { $n } wartet
phones-refused = { $n } nicht angenommen
phones-why = { $when }: { $why }
phones-shut-out = Aussperren
phones-shut-out-of = { $device } aussperren
phones-shut-since = ausgesperrt { $when }

## Kataloge

editions-none = den Telefonen noch nicht gegeben
editions-walks = die Schule geht nach Fassung { $n }
editions-give = Die Fassung dieses Geräts jedem Telefon geben
editions-given = { $catalogue }: Mit Fassung { $n } werden Rundgänge begonnen.

## Was behalten wird

terms = Privatsphäre
terms-sound = Die Schule behält Ton
terms-days = Tage, bis er gelöscht wird; leer: nie von selbst
terms-phrases = Wer bekommt, was jemandes Worte bedeuten
terms-phrases-none = niemand
terms-phrases-own = die eigenen Geräte dieser Person
terms-phrases-aircraft = alle, die das Luftfahrzeug begehen
terms-instructors = Lehrer dürfen ihre Schüler hören
terms-chief = Die Leitung darf hören
terms-save = So festhalten
terms-saved = Wer von jetzt an beitritt, liest zuerst diese Sätze.
terms-words-only = Die Schule behält die Worte Ihrer Rundgänge und keinen Ton. Der Ton bleibt auf diesem Telefon.
terms-keeps = Die Schule behält die Worte und den Ton Ihrer Rundgänge.
terms-until-asked = Der Ton wird behalten, bis jemand ihn löschen lässt.
terms-erased = { $n ->
    [one] Der Ton wird nach { $n } Tag überall gelöscht.
   *[other] Der Ton wird nach { $n } Tagen überall gelöscht.
}
terms-nobody = Niemand außer Ihnen darf ihn hören.
terms-instructor-hears = Außer Ihnen darf ihn Ihr Lehrer hören.
terms-chief-hears = Außer Ihnen darf ihn die Leitung der Schule hören.
terms-both-hear = Außer Ihnen dürfen ihn Ihr Lehrer und die Leitung der Schule hören.
terms-pictures = Wer Ihren Rundgang lesen darf, sieht seine Bilder; die einer Beanstandung sehen alle in der Schule.
terms-pictures-until-asked = Die Bilder werden behalten, bis jemand sie löschen lässt.
terms-pictures-erased = { $n ->
    [one] Die Bilder werden nach { $n } Tag überall gelöscht, aber nicht, solange ihre Beanstandung offen ist.
   *[other] Die Bilder werden nach { $n } Tagen überall gelöscht, aber nicht, solange ihre Beanstandung offen ist.
}
terms-erase = Sie können Ihren Ton und Ihre Bilder jederzeit löschen lassen: vom Server und von jedem Gerät.
terms-stay = Ihr Lehrer liest die Worte Ihrer Rundgänge. Die Worte bleiben in der Aufzeichnung des Luftfahrzeugs.
terms-phrases-none-told = Was Ihre Worte bedeuten, wird keinem anderen Gerät weitergegeben.
terms-phrases-own-told = Was Ihre Worte bedeuten, kommt auf Ihre eigenen Geräte und auf keines von anderen.
terms-phrases-aircraft-told = Was Ihre Worte bedeuten, samt den Worten, bekommen alle, die das Luftfahrzeug begehen.

## Beitreten

join-asking = Die Schule wird gefragt …
join = { $school } beitreten
join-shared = Als Telefon, das die Piloten teilen.
join-as = Als { $person }: { $roles }.
join-phone = Telefon
join-called = Wie dieses Gerät am Arbeitsplatz heißt
join-yes = Gelesen: beitreten
join-no = Nicht beitreten

let-done = { $desk } ist für einen Arbeitstag als Sie angemeldet.
let-what = Der Arbeitsplatz, der diesen Code zeigt, sieht und tut dann, was { $name } darf. Nur tun, wenn Sie davor stehen.
let-what-nameless = Der Arbeitsplatz, der diesen Code zeigt, sieht und tut dann, was der Inhaber dieses Telefons darf. Nur tun, wenn Sie davor stehen.
let-code = Code auf dem Bildschirm des Arbeitsplatzes
let-yes = Diesen Arbeitsplatz als mich anmelden
