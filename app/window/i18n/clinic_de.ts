<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" language="de_DE" sourcelanguage="en_US">
<context>
    <name>ClinicWords</name>
    <message>
        <source>%1 a week, 95 % band %2 to %3</source>
        <translation>%1 in der Woche, 95-%-Band %2 bis %3</translation>
    </message>
    <message>
        <source>symptoms</source>
        <translation>Beschwerden</translation>
    </message>
    <message>
        <source>farther than before</source>
        <translation>ferner als zuvor</translation>
    </message>
    <message>
        <source>beyond the limit</source>
        <translation>jenseits der Grenze</translation>
    </message>
    <message>
        <source>eyes and report disagree</source>
        <translation>Augen und Angabe widersprechen sich</translation>
    </message>
    <message>
        <source>poor quality</source>
        <translation>schwache Grundlage</translation>
    </message>
    <message>
        <source>exercise stopped</source>
        <translation>Übung eingestellt</translation>
    </message>
    <message>
        <source>measurement due</source>
        <translation>Messung fällig</translation>
    </message>
    <message>
        <source>Symptoms were entered: discomfort or double vision that stayed, or a symptom score at or beyond its limit.</source>
        <translation>Beschwerden wurden angegeben: Unwohlsein, Doppelbilder, die blieben, oder ein Beschwerdewert an oder über seiner Grenze.</translation>
    </message>
    <message>
        <source>The near point lies farther away than before, by more than repeats without change give.</source>
        <translation>Der Nahpunkt liegt weiter weg als zuvor, um mehr, als Wiederholungen ohne Veränderung ergeben.</translation>
    </message>
    <message>
        <source>The band of the newest measurement lies beyond the limit.</source>
        <translation>Das Band der neuesten Messung liegt jenseits der Grenze.</translation>
    </message>
    <message>
        <source>What was reported and what the eyes did tell different stories.</source>
        <translation>Was angegeben wurde und was die Augen taten, passt nicht zusammen.</translation>
    </message>
    <message>
        <source>The newest measurement rests on little: fewer than three trials count, more were set aside than count, or the camera saw the eyes in less than 80 % of the pictures.</source>
        <translation>Die neueste Messung steht auf schwacher Grundlage: Weniger als drei Durchgänge zählen, mehr wurden ausgeschlossen als zählen, oder die Kamera sah die Augen in weniger als 80 % der Bilder.</translation>
    </message>
    <message>
        <source>The plan asks for exercise, and none was done for %1 days.</source>
        <translation>Der Plan sieht Übung vor, und seit %1 Tagen wurde nicht geübt.</translation>
    </message>
    <message>
        <source>The plan asked for a measurement that has not come.</source>
        <translation>Der Plan sah eine Messung vor, die nicht gekommen ist.</translation>
    </message>
    <message>
        <source>within the limit</source>
        <translation>innerhalb der Grenze</translation>
    </message>
    <message>
        <source>cannot tell yet</source>
        <translation>noch nicht zu sagen</translation>
    </message>
    <message>
        <source>no value</source>
        <translation>kein Wert</translation>
    </message>
    <message>
        <source>%1, 95 % band %2 to %3</source>
        <translation>%1, 95-%-Band %2 bis %3</translation>
    </message>
    <message>
        <source>at most %1</source>
        <translation>höchstens %1</translation>
    </message>
    <message>
        <source>at least %1</source>
        <translation>mindestens %1</translation>
    </message>
    <message>
        <source>day not stated, received %1</source>
        <translation>Tag nicht angegeben, erhalten am %1</translation>
    </message>
    <message>
        <source>simulated, nobody was measured</source>
        <translation>simuliert, niemand wurde gemessen</translation>
    </message>
    <message>
        <source>accepted</source>
        <translation>angenommen</translation>
    </message>
    <message>
        <source>changed by review</source>
        <translation>durch Durchsicht geändert</translation>
    </message>
    <message>
        <source>eyes felt fine afterwards</source>
        <translation>danach fühlten sich die Augen gut an</translation>
    </message>
    <message>
        <source>eyes felt tired afterwards</source>
        <translation>danach waren die Augen müde</translation>
    </message>
    <message>
        <source>discomfort afterwards</source>
        <translation>danach Unwohlsein</translation>
    </message>
    <message>
        <source>double vision stayed afterwards</source>
        <translation>danach blieben Doppelbilder</translation>
    </message>
    <message>
        <source>how the eyes felt afterwards is not known</source>
        <translation>wie sich die Augen danach anfühlten, ist nicht bekannt</translation>
    </message>
    <message>
        <source>A course needs measurements on two days at least.</source>
        <translation>Für einen Verlauf braucht es Messungen an mindestens zwei Tagen.</translation>
    </message>
    <message>
        <source>The near point comes nearer over time</source>
        <translation>Der Nahpunkt rückt mit der Zeit näher</translation>
    </message>
    <message>
        <source>The near point moves away over time</source>
        <translation>Der Nahpunkt rückt mit der Zeit weiter weg</translation>
    </message>
    <message>
        <source>No change over time can be told</source>
        <translation>Eine Veränderung mit der Zeit ist nicht zu erkennen</translation>
    </message>
    <message>
        <source>The measurements contradict a straight line.</source>
        <translation>Die Messungen widersprechen einer geraden Linie.</translation>
    </message>
    <message>
        <source>Two single measurements that differ by less than %1 need not differ at all.</source>
        <translation>Zwei einzelne Messungen, die sich um weniger als %1 unterscheiden, müssen gar nicht verschieden sein.</translation>
    </message>
    <message>
        <source>report and eyes agree</source>
        <translation>Angabe und Augen stimmen überein</translation>
    </message>
    <message>
        <source>reported two, but no eye was seen to drift</source>
        <translation>„zwei“ angegeben, aber kein Auge wich sichtbar ab</translation>
    </message>
    <message>
        <source>an eye drifted and nothing was reported</source>
        <translation>ein Auge wich ab, und nichts wurde angegeben</translation>
    </message>
    <message>
        <source>single to the nearest point, and no eye drifted</source>
        <translation>einfach bis zum nächsten Punkt, und kein Auge wich ab</translation>
    </message>
    <message>
        <source>report and drift lie too far apart in time to be the same event</source>
        <translation>Angabe und Abweichen liegen zeitlich zu weit auseinander, um dasselbe zu sein</translation>
    </message>
    <message>
        <source>the eyes were not seen well enough</source>
        <translation>die Augen waren nicht gut genug zu sehen</translation>
    </message>
    <message>
        <source>the eyes were not analysed</source>
        <translation>die Augen wurden nicht ausgewertet</translation>
    </message>
    <message>
        <source>met</source>
        <translation>erfüllt</translation>
    </message>
    <message>
        <source>not met</source>
        <translation>nicht erfüllt</translation>
    </message>
    <message>
        <source>not enough data</source>
        <translation>zu wenig Angaben</translation>
    </message>
    <message>
        <source>set trial %1 aside: %2</source>
        <translation>Durchgang %1 ausgeschlossen: %2</translation>
    </message>
    <message>
        <source>let trial %1 count: %2</source>
        <translation>Durchgang %1 zählen lassen: %2</translation>
    </message>
    <message>
        <source>noted: %1</source>
        <translation>notiert: %1</translation>
    </message>
</context>
<context>
    <name>Criterion</name>
    <message>
        <source>Sheard: the opposing reserve is at least twice the phoria</source>
        <translation>Sheard: Die gegenläufige Reserve ist mindestens doppelt so groß wie die Phorie</translation>
    </message>
    <message>
        <source>Exophoria at near exceeds that at far by 4 prism dioptres or more</source>
        <translation>Exophorie in der Nähe um 4 Prismendioptrien oder mehr größer als in der Ferne</translation>
    </message>
    <message>
        <source>Near point of convergence 6 cm or farther</source>
        <translation>Konvergenznahpunkt bei 6 cm oder ferner</translation>
    </message>
    <message>
        <source>Positive fusional vergence fails Sheard or is 15 prism dioptres or less</source>
        <translation>Positive fusionale Vergenz genügt Sheard nicht oder beträgt 15 Prismendioptrien oder weniger</translation>
    </message>
    <message>
        <source>Symptom score 16 or more (9 to 17 years), 21 or more (adults)</source>
        <translation>Beschwerdewert 16 oder mehr (9 bis 17 Jahre), 21 oder mehr (Erwachsene)</translation>
    </message>
    <message>
        <source>All four signs of the trial together</source>
        <translation>Alle vier Zeichen der Studie zusammen</translation>
    </message>
</context>
<context>
    <name>PackageWords</name>
    <message numerus="yes">
        <source>The measurement of %1: %n trial(s) with distances, times and what the eyes did, the estimate, and how your eyes felt.</source>
        <translation>
            <numerusform>Die Messung vom %1: %n Durchgang mit Abständen, Zeiten und dem, was die Augen taten, der Schätzung und wie sich deine Augen anfühlten.</numerusform>
            <numerusform>Die Messung vom %1: %n Durchgänge mit Abständen, Zeiten und dem, was die Augen taten, der Schätzung und wie sich deine Augen anfühlten.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>The exercise diary: %n session(s) with day, repetitions, the nearest pair held, and how your eyes felt.</source>
        <translation>
            <numerusform>Das Übungstagebuch: %n Übung mit Tag, Wiederholungen, dem nächsten gehaltenen Paar und wie sich deine Augen anfühlten.</numerusform>
            <numerusform>Das Übungstagebuch: %n Übungen mit Tag, Wiederholungen, dem nächsten gehaltenen Paar und wie sich deine Augen anfühlten.</numerusform>
        </translation>
    </message>
    <message>
        <source>The course of each trial: distance and turn of the eyes, one line for each picture.</source>
        <translation>Der Verlauf jedes Durchgangs: Abstand und Drehung der Augen, eine Zeile für jedes Bild.</translation>
    </message>
    <message>
        <source>The name you gave here: %1.</source>
        <translation>Der Name, den du hier angegeben hast: %1.</translation>
    </message>
    <message>
        <source>No pictures and no sound.</source>
        <translation>Keine Bilder und kein Ton.</translation>
    </message>
    <message numerus="yes">
        <source>%n grey picture(s) of your two eyes at break and recovery, never of the whole face; no sound.</source>
        <translation>
            <numerusform>Ein graues Bild deiner beiden Augen beim Doppelt- oder Wieder-eins-Werden, nie vom ganzen Gesicht; kein Ton.</numerusform>
            <numerusform>%n graue Bilder deiner beiden Augen beim Doppelt- und Wieder-eins-Werden, nie vom ganzen Gesicht; kein Ton.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::ClinicChooser</name>
    <message>
        <source>Clinic</source>
        <translation>Praxis</translation>
    </message>
    <message>
        <source>Fingerprint of their card: %1</source>
        <translation>Fingerabdruck ihrer Karte: %1</translation>
    </message>
    <message>
        <source>name of the clinic</source>
        <translation>Name der Praxis</translation>
    </message>
    <message>
        <source>their card: a line that begins with nearpoint-card</source>
        <translation>ihre Karte: eine Zeile, die mit nearpoint-card beginnt</translation>
    </message>
    <message>
        <source>Once: the card that your clinic gives you</source>
        <translation>Einmal: die Karte, die deine Praxis dir gibt</translation>
    </message>
    <message>
        <source>Add this clinic</source>
        <translation>Diese Praxis aufnehmen</translation>
    </message>
    <message>
        <source>Show the camera their QR code</source>
        <translation>Der Kamera ihren QR-Code zeigen</translation>
    </message>
    <message>
        <source>QR code in a picture ...</source>
        <translation>QR-Code in einem Bild ...</translation>
    </message>
    <message>
        <source>Picture of their QR code</source>
        <translation>Bild ihres QR-Codes</translation>
    </message>
    <message>
        <source>Pictures (*.png *.jpg *.jpeg);;All files (*)</source>
        <translation>Bilder (*.png *.jpg *.jpeg);;Alle Dateien (*)</translation>
    </message>
    <message>
        <source>The camera is starting ...</source>
        <translation>Die Kamera startet ...</translation>
    </message>
    <message>
        <source>%1: this picture cannot be read.</source>
        <translation>%1: Dieses Bild kann nicht gelesen werden.</translation>
    </message>
    <message>
        <source>%1: no QR code can be read in this picture.</source>
        <translation>%1: In diesem Bild ist kein QR-Code zu lesen.</translation>
    </message>
    <message>
        <source>✓ A card was read; its fingerprint is %1. Write the name of the clinic beside it and add it.</source>
        <translation>✓ Eine Karte wurde gelesen; ihr Fingerabdruck ist %1. Schreib den Namen der Praxis daneben und nimm sie auf.</translation>
    </message>
    <message>
        <source>Write the name of the clinic beside its card.</source>
        <translation>Schreib den Namen der Praxis neben ihre Karte.</translation>
    </message>
    <message>
        <source>✓ Added. Have them read out their fingerprint and compare: only then it is certain whose card it is.</source>
        <translation>✓ Aufgenommen. Lass dir den Fingerabdruck vorlesen und vergleiche: Erst dann ist sicher, wessen Karte es ist.</translation>
    </message>
</context>
<context>
    <name>nearpoint::ClinicPage</name>
    <message>
        <source>Write your name under &quot;Set up&quot; first: the record says who did what.</source>
        <translation>Schreiben Sie zuerst unter „Einrichten“ Ihren Namen: Die Aufzeichnung hält fest, wer was getan hat.</translation>
    </message>
    <message>
        <source>For clinicians</source>
        <translation>Für Fachleute</translation>
    </message>
</context>
<context>
    <name>nearpoint::ClinicSessionPage</name>
    <message>
        <source>Back to the person</source>
        <translation>Zurück zur Person</translation>
    </message>
    <message>
        <source>Measurement</source>
        <translation>Messung</translation>
    </message>
    <message>
        <source>Accept as it stands</source>
        <translation>So annehmen</translation>
    </message>
    <message>
        <source>Can it be trusted?</source>
        <translation>Ist ihr zu trauen?</translation>
    </message>
    <message numerus="yes">
        <source>%1 of %n trial(s) count.</source>
        <translation>
            <numerusform>%1 von %n Durchgang zählt.</numerusform>
            <numerusform>%1 von %n Durchgängen zählen.</numerusform>
        </translation>
    </message>
    <message>
        <source>The camera saw the eyes in %1 % of the pictures.</source>
        <translation>Die Kamera sah die Augen in %1 % der Bilder.</translation>
    </message>
    <message>
        <source>As it was measured, before the review: %1.</source>
        <translation>Wie gemessen, vor der Durchsicht: %1.</translation>
    </message>
    <message>
        <source>Trial by trial</source>
        <translation>Durchgang für Durchgang</translation>
    </message>
    <message>
        <source>Trial to show</source>
        <translation>Durchgang, der gezeigt wird</translation>
    </message>
    <message>
        <source>Trial %1: %2, %3</source>
        <translation>Durchgang %1: %2, %3</translation>
    </message>
    <message>
        <source>– does not count</source>
        <translation>– zählt nicht</translation>
    </message>
    <message>
        <source>✓ counts</source>
        <translation>✓ zählt</translation>
    </message>
    <message>
        <source>Two at %1, one again at %2.</source>
        <translation>Zwei bei %1, wieder eins bei %2.</translation>
    </message>
    <message>
        <source>Approach at %1 mm a second.</source>
        <translation>Annäherung mit %1 mm in der Sekunde.</translation>
    </message>
    <message>
        <source>the left eye</source>
        <translation>das linke Auge</translation>
    </message>
    <message>
        <source>the right eye</source>
        <translation>das rechte Auge</translation>
    </message>
    <message>
        <source>both eyes</source>
        <translation>beide Augen</translation>
    </message>
    <message>
        <source>an eye</source>
        <translation>ein Auge</translation>
    </message>
    <message>
        <source>In the pictures %1 left the target at %2.</source>
        <translation>In den Bildern verließ %1 das Ziel bei %2.</translation>
    </message>
    <message>
        <source>Agreement: %1.</source>
        <translation>Übereinstimmung: %1.</translation>
    </message>
    <message>
        <source>Seen in %1 % of its pictures.</source>
        <translation>Zu sehen in %1 % seiner Bilder.</translation>
    </message>
    <message>
        <source>Does not count: %1</source>
        <translation>Zählt nicht: %1</translation>
    </message>
    <message>
        <source>Set trial %1 aside</source>
        <translation>Durchgang %1 ausschließen</translation>
    </message>
    <message>
        <source>Let trial %1 count</source>
        <translation>Durchgang %1 zählen lassen</translation>
    </message>
    <message>
        <source>Your decision</source>
        <translation>Ihre Entscheidung</translation>
    </message>
    <message>
        <source>The measurement stays as it came. Each step is kept with your name and cannot be changed unseen; the estimate is made anew.</source>
        <translation>Die Messung bleibt, wie sie kam. Jeder Schritt wird mit Ihrem Namen festgehalten und lässt sich nicht unbemerkt ändern; die Schätzung wird neu gerechnet.</translation>
    </message>
    <message>
        <source>the reason, or a note</source>
        <translation>der Grund oder eine Notiz</translation>
    </message>
    <message>
        <source>The reason, or a note</source>
        <translation>Der Grund oder eine Notiz</translation>
    </message>
    <message>
        <source>Set aside</source>
        <translation>Ausschließen</translation>
    </message>
    <message>
        <source>Let it count</source>
        <translation>Zählen lassen</translation>
    </message>
    <message>
        <source>Keep as a note</source>
        <translation>Als Notiz behalten</translation>
    </message>
    <message>
        <source>%1, %2: %3</source>
        <translation>%1, %2: %3</translation>
    </message>
    <message>
        <source>Write the reason first: without one nobody could follow it later.</source>
        <translation>Schreiben Sie zuerst den Grund: Ohne ihn könnte es später niemand nachvollziehen.</translation>
    </message>
    <message>
        <source>Report and record</source>
        <translation>Bericht und Akte</translation>
    </message>
    <message>
        <source>Whom the report is for</source>
        <translation>Für wen der Bericht ist</translation>
    </message>
    <message>
        <source>for the record</source>
        <translation>für die Akte</translation>
    </message>
    <message>
        <source>for a parent</source>
        <translation>für die Eltern</translation>
    </message>
    <message>
        <source>for a school</source>
        <translation>für die Schule</translation>
    </message>
    <message>
        <source>Report as PDF ...</source>
        <translation>Bericht als PDF ...</translation>
    </message>
    <message>
        <source>Report as PDF</source>
        <translation>Bericht als PDF</translation>
    </message>
    <message>
        <source>PDF files (*.pdf)</source>
        <translation>PDF-Dateien (*.pdf)</translation>
    </message>
    <message>
        <source>FHIR bundle ...</source>
        <translation>FHIR-Bündel ...</translation>
    </message>
    <message>
        <source>FHIR bundle</source>
        <translation>FHIR-Bündel</translation>
    </message>
    <message>
        <source>JSON files (*.json)</source>
        <translation>JSON-Dateien (*.json)</translation>
    </message>
    <message>
        <source>The report is in %1.</source>
        <translation>Der Bericht liegt in %1.</translation>
    </message>
    <message>
        <source>A FHIR bundle names the person by the number of your records, never by name; this person has none yet.</source>
        <translation>Ein FHIR-Bündel nennt die Person mit der Nummer Ihrer Akten, nie mit Namen; diese Person hat noch keine.</translation>
    </message>
    <message>
        <source>The bundle is in %1.</source>
        <translation>Das Bündel liegt in %1.</translation>
    </message>
    <message>
        <source>Record server: %1</source>
        <translation>Aktenserver: %1</translation>
    </message>
    <message>
        <source>Send to the record server</source>
        <translation>An den Aktenserver senden</translation>
    </message>
    <message>
        <source>The server has it already, in this state of the review; nothing was sent.</source>
        <translation>Der Server hat sie schon, in diesem Stand der Durchsicht; nichts wurde gesendet.</translation>
    </message>
    <message>
        <source>Sending ...</source>
        <translation>Wird gesendet ...</translation>
    </message>
    <message>
        <source>The server is busy or out of reach; trying again in %1 s.</source>
        <translation>Der Server ist beschäftigt oder nicht zu erreichen; neuer Versuch in %1 s.</translation>
    </message>
    <message>
        <source>The server has taken it.</source>
        <translation>Der Server hat sie aufgenommen.</translation>
    </message>
    <message>
        <source>Solid: left eye, dotted: right eye, dashed: asked for. Triangles: what was reported. Diamonds: when an eye was seen to leave the target (filled) and to come back (open).</source>
        <translation>Durchgezogen: linkes Auge, gepunktet: rechtes Auge, gestrichelt: verlangt. Dreiecke: was angegeben wurde. Rauten: wann ein Auge das Ziel sichtbar verließ (gefüllt) und zurückkam (offen).</translation>
    </message>
    <message>
        <source>A school gets this only if the person, or the parents of a child, have agreed to it. Do you have their consent? Then press once more.</source>
        <translation>Eine Schule bekommt das nur, wenn die Person oder die Eltern eines Kindes zugestimmt haben. Haben Sie die Einwilligung? Dann drücken Sie noch einmal.</translation>
    </message>
    <message>
        <source>Held against %1, the limit for the age that is known now. On its day it was held against %2: %3.</source>
        <translation>Verglichen mit %1, der Grenze für das Alter, das jetzt bekannt ist. Am Tag der Messung war es %2: %3.</translation>
    </message>
</context>
<context>
    <name>nearpoint::ClinicSetupPage</name>
    <message>
        <source>Set up the clinic</source>
        <translation>Die Praxis einrichten</translation>
    </message>
    <message>
        <source>Done</source>
        <translation>Fertig</translation>
    </message>
    <message>
        <source>Who is at work</source>
        <translation>Wer hier arbeitet</translation>
    </message>
    <message>
        <source>Your name, as it is to stand in the record</source>
        <translation>Ihr Name, wie er in der Aufzeichnung stehen soll</translation>
    </message>
    <message>
        <source>No folder is watched; files are dropped or chosen.</source>
        <translation>Kein Ordner wird beobachtet; Dateien werden hergezogen oder ausgewählt.</translation>
    </message>
    <message>
        <source>While &quot;Receive&quot; is open, this folder is watched: %1</source>
        <translation>Solange „Empfangen“ offen ist, wird dieser Ordner beobachtet: %1</translation>
    </message>
    <message>
        <source>Watch a folder ...</source>
        <translation>Ordner beobachten ...</translation>
    </message>
    <message>
        <source>Folder to watch</source>
        <translation>Ordner, der beobachtet wird</translation>
    </message>
    <message>
        <source>The card of this clinic</source>
        <translation>Die Karte dieser Praxis</translation>
    </message>
    <message>
        <source>Homes need it once, to seal what they send so that only you can open it. It may be read by anybody. Read the fingerprint to them.</source>
        <translation>Zu Hause braucht man sie einmal, um zu versiegeln, was gesendet wird, so dass nur Sie es öffnen können. Jeder darf sie lesen. Lesen Sie den Fingerabdruck vor.</translation>
    </message>
    <message>
        <source>Name of the clinic</source>
        <translation>Name der Praxis</translation>
    </message>
    <message>
        <source>How long data is kept</source>
        <translation>Wie lange Daten bleiben</translation>
    </message>
    <message>
        <source>Your local rules decide. Nothing is deleted by itself: who is past the time is listed here.</source>
        <translation>Ihre örtlichen Regeln entscheiden. Nichts wird von selbst gelöscht: Wer über die Zeit ist, steht hier.</translation>
    </message>
    <message>
        <source>not said</source>
        <translation>nicht festgelegt</translation>
    </message>
    <message>
        <source>months</source>
        <translation>Monate</translation>
    </message>
    <message>
        <source>Months after the newest measurement</source>
        <translation>Monate nach der neuesten Messung</translation>
    </message>
    <message>
        <source>Nobody is past it.</source>
        <translation>Niemand ist darüber.</translation>
    </message>
    <message>
        <source>Past it: %1. Open each to export or delete.</source>
        <translation>Darüber: %1. Öffnen Sie jede Person, um zu exportieren oder zu löschen.</translation>
    </message>
    <message>
        <source>Journal</source>
        <translation>Journal</translation>
    </message>
    <message numerus="yes">
        <source>Whole: %n entries, each tied to the one before.</source>
        <translation>
            <numerusform>Unversehrt: %n Eintrag.</numerusform>
            <numerusform>Unversehrt: %n Einträge, jeder an den davor gebunden.</numerusform>
        </translation>
    </message>
    <message>
        <source>Record server (FHIR R4)</source>
        <translation>Aktenserver (FHIR R4)</translation>
    </message>
    <message>
        <source>Address of the record server</source>
        <translation>Adresse des Aktenservers</translation>
    </message>
    <message>
        <source>Empty: this program opens no connection. With an address, a measurement goes there only when you press the button on its page, and the server is asked for what homes left there when you press the button under &quot;Receive&quot;. The token is asked for then; it is kept in the keyring of the system, where there is one, and never in a file.</source>
        <translation>Leer: Dieses Programm öffnet keine Verbindung. Mit einer Adresse geht eine Messung nur dann dorthin, wenn Sie auf ihrer Seite den Knopf drücken, und nach dem, was von zu Hause dort abgelegt wurde, wird der Server gefragt, wenn Sie unter „Empfangen“ den Knopf drücken. Dann wird nach dem Zugangsschlüssel gefragt; er bleibt im Schlüsselbund des Systems, wo es einen gibt, und nie in einer Datei.</translation>
    </message>
    <message>
        <source>Tables for research</source>
        <translation>Tabellen für die Forschung</translation>
    </message>
    <message>
        <source>All measurements as reviewed, as CSV with a data dictionary: pseudonyms in place of people, days since the first measurement in place of dates, no words. They are personal data all the same: the key to the pseudonyms stands in the file of this clinic.</source>
        <translation>Alle Messungen, wie durchgesehen, als CSV mit einem Verzeichnis der Spalten: Pseudonyme statt Personen, Tage seit der ersten Messung statt Daten, keine freien Worte. Es sind trotzdem personenbezogene Daten: Der Schlüssel zu den Pseudonymen steht in der Datei dieser Praxis.</translation>
    </message>
    <message>
        <source>Tables as CSV ...</source>
        <translation>Tabellen als CSV ...</translation>
    </message>
    <message>
        <source>Folder for the tables</source>
        <translation>Ordner für die Tabellen</translation>
    </message>
    <message>
        <source>Nothing was measured yet that could be exported.</source>
        <translation>Es wurde noch nichts gemessen, das man ausgeben könnte.</translation>
    </message>
    <message>
        <source>sessions.csv, trials.csv and dictionary.csv are in %1.</source>
        <translation>sessions.csv, trials.csv und dictionary.csv liegen in %1.</translation>
    </message>
    <message>
        <source>The system of your record numbers, as the record server names it. With it the server finds the patient, and what you send shows in the chart; without it the number alone goes along.</source>
        <translation>Das System Ihrer Aktennummern, wie der Aktenserver es nennt. Damit findet der Server die Person, und was Sie senden, erscheint in der Akte; ohne es geht nur die Nummer mit.</translation>
    </message>
    <message>
        <source>System of the record numbers</source>
        <translation>System der Aktennummern</translation>
    </message>
</context>
<context>
    <name>nearpoint::EyePictureChoice</name>
    <message>
        <source>Delete the pictures</source>
        <translation>Die Bilder löschen</translation>
    </message>
    <message>
        <source>No pictures are kept.</source>
        <translation>Es werden keine Bilder aufbewahrt.</translation>
    </message>
    <message numerus="yes">
        <source>%n picture(s) are kept.</source>
        <translation>
            <numerusform>Ein Bild wird aufbewahrt.</numerusform>
            <numerusform>%n Bilder werden aufbewahrt.</numerusform>
        </translation>
    </message>
    <message>
        <source>✓ The pictures are deleted and overwritten. What was sent before is with your clinic.</source>
        <translation>✓ Die Bilder sind gelöscht und überschrieben. Was vorher gesendet wurde, liegt bei deiner Praxis.</translation>
    </message>
    <message>
        <source>Only if you want: a small grey strip of your two eyes at the moment of &quot;two&quot; and of &quot;one again&quot;, so that your clinic can see them. Never the whole face. The strips are kept from the next measurement on, stay on this computer, and go to your clinic only when you tick them above. For a child, a parent decides.</source>
        <translation>Nur wenn du möchtest: ein schmaler grauer Streifen deiner beiden Augen im Augenblick von „zwei“ und von „wieder eins“, damit deine Praxis sie sehen kann. Nie das ganze Gesicht. Die Streifen werden ab der nächsten Messung aufbewahrt, bleiben auf diesem Rechner und gehen nur dann an deine Praxis, wenn du sie oben ankreuzt. Für ein Kind entscheidet ein Elternteil.</translation>
    </message>
    <message>
        <source>Keep such pictures</source>
        <translation>Solche Bilder aufbewahren</translation>
    </message>
</context>
<context>
    <name>nearpoint::EyePictureView</name>
    <message>
        <source>The eyes at the break</source>
        <translation>Die Augen am Abreißpunkt</translation>
    </message>
    <message>
        <source>The eyes at the recovery</source>
        <translation>Die Augen, als es wieder eins war</translation>
    </message>
    <message>
        <source>No pictures of the eyes came of this trial.</source>
        <translation>Von diesem Durchgang kamen keine Bilder der Augen.</translation>
    </message>
    <message>
        <source>Left in the picture is the right eye. The pictures were sent with a consent of its own and go with the person&apos;s data when that is deleted.</source>
        <translation>Links im Bild ist das rechte Auge. Die Bilder wurden mit einer eigenen Einwilligung gesendet und werden mit den Daten der Person gelöscht.</translation>
    </message>
</context>
<context>
    <name>nearpoint::FindingsPage</name>
    <message>
        <source>Found in the office</source>
        <translation>In der Praxis gefunden</translation>
    </message>
    <message>
        <source>Back to the person</source>
        <translation>Zurück zur Person</translation>
    </message>
    <message>
        <source>Leave empty what was not tested.</source>
        <translation>Lassen Sie leer, was nicht geprüft wurde.</translation>
    </message>
    <message>
        <source>Age, years</source>
        <translation>Alter, Jahre</translation>
    </message>
    <message>
        <source>Phoria at near, prism dioptres, exo positive</source>
        <translation>Phorie in der Nähe, Prismendioptrien, Exo positiv</translation>
    </message>
    <message>
        <source>Phoria at far, prism dioptres, exo positive</source>
        <translation>Phorie in der Ferne, Prismendioptrien, Exo positiv</translation>
    </message>
    <message>
        <source>Base out at near, blur</source>
        <translation>Basis außen in der Nähe, Nebelpunkt</translation>
    </message>
    <message>
        <source>Base out at near, break</source>
        <translation>Basis außen in der Nähe, Abreißpunkt</translation>
    </message>
    <message>
        <source>Base in at near, blur</source>
        <translation>Basis innen in der Nähe, Nebelpunkt</translation>
    </message>
    <message>
        <source>Base in at near, break</source>
        <translation>Basis innen in der Nähe, Abreißpunkt</translation>
    </message>
    <message>
        <source>Score of the symptom survey, 0 to 60</source>
        <translation>Wert des Beschwerdefragebogens, 0 bis 60</translation>
    </message>
    <message>
        <source>In words</source>
        <translation>In Worten</translation>
    </message>
    <message>
        <source>Published criteria, with the newest measurement</source>
        <translation>Veröffentlichte Kriterien, mit der neuesten Messung</translation>
    </message>
    <message>
        <source>None of them, alone or together, is a diagnosis.</source>
        <translation>Keines davon, allein oder zusammen, ist eine Diagnose.</translation>
    </message>
    <message>
        <source>Keep</source>
        <translation>Behalten</translation>
    </message>
    <message>
        <source>A field holds something that is not a number.</source>
        <translation>In einem Feld steht etwas, das keine Zahl ist.</translation>
    </message>
</context>
<context>
    <name>nearpoint::KeyCardView</name>
    <message>
        <source>Card as text</source>
        <translation>Karte als Text</translation>
    </message>
    <message>
        <source>Fingerprint: %1</source>
        <translation>Fingerabdruck: %1</translation>
    </message>
    <message>
        <source>Copy the card</source>
        <translation>Karte kopieren</translation>
    </message>
    <message>
        <source>Make a card</source>
        <translation>Karte anlegen</translation>
    </message>
    <message>
        <source>The secret half stays on this computer, readable by this user alone and not encrypted.</source>
        <translation>Die geheime Hälfte bleibt auf diesem Computer, nur für diesen Benutzer lesbar und nicht verschlüsselt.</translation>
    </message>
    <message>
        <source>Write a name first.</source>
        <translation>Bitte zuerst einen Namen schreiben.</translation>
    </message>
    <message>
        <source>Card as QR code</source>
        <translation>Karte als QR-Code</translation>
    </message>
    <message>
        <source>The same card as a QR code, for the camera of the other.</source>
        <translation>Dieselbe Karte als QR-Code, für die Kamera der anderen Seite.</translation>
    </message>
</context>
<context>
    <name>nearpoint::PatientList</name>
    <message>
        <source>nothing measured yet</source>
        <translation>noch nichts gemessen</translation>
    </message>
    <message>
        <source>nothing asks for a look</source>
        <translation>nichts verlangt einen Blick</translation>
    </message>
</context>
<context>
    <name>nearpoint::PatientPage</name>
    <message>
        <source>All patients</source>
        <translation>Alle Patienten</translation>
    </message>
    <message>
        <source>Patient</source>
        <translation>Patient</translation>
    </message>
    <message>
        <source>Look at the newest</source>
        <translation>Die neueste ansehen</translation>
    </message>
    <message>
        <source>Write a plan</source>
        <translation>Plan schreiben</translation>
    </message>
    <message>
        <source>Findings in the office</source>
        <translation>Befunde in der Praxis</translation>
    </message>
    <message>
        <source>Nothing asks for a look.</source>
        <translation>Nichts verlangt einen Blick.</translation>
    </message>
    <message>
        <source>Why to look</source>
        <translation>Warum hinsehen</translation>
    </message>
    <message>
        <source>Reasons to look, no findings. Those of a measurement go when it is accepted, the others with the button here until something new comes.</source>
        <translation>Gründe hinzusehen, keine Befunde. Die einer Messung verschwinden, wenn sie angenommen wird, die anderen mit dem Knopf hier, bis etwas Neues kommt.</translation>
    </message>
    <message>
        <source>I have looked, nothing to do</source>
        <translation>Angesehen, nichts zu tun</translation>
    </message>
    <message>
        <source>Over time</source>
        <translation>Im Verlauf</translation>
    </message>
    <message>
        <source>Nothing has been received yet.</source>
        <translation>Es ist noch nichts angekommen.</translation>
    </message>
    <message>
        <source>Dots with their 95 % band: measurements, open where they do not count in the course. A square around one: eyes and report disagree. Bars below: exercise, half height where some repetitions were missing. Diamonds: measurement asked for. Dashed: the limit</source>
        <translation>Punkte mit ihrem 95-%-Band: Messungen, offen, wo sie im Verlauf nicht zählen. Ein Quadrat darum: Augen und Angabe widersprechen sich. Balken unten: Übung, halb so hoch, wo Wiederholungen fehlten. Rauten: gewünschte Messung. Gestrichelt: die Grenze</translation>
    </message>
    <message>
        <source>Dotted, with one standard deviation: mean of %1.</source>
        <translation>Gepunktet, mit einer Standardabweichung: Mittel von %1.</translation>
    </message>
    <message>
        <source>Measurements</source>
        <translation>Messungen</translation>
    </message>
    <message>
        <source>None yet.</source>
        <translation>Noch keine.</translation>
    </message>
    <message>
        <source>Measurements, newest first</source>
        <translation>Messungen, die neueste zuerst</translation>
    </message>
    <message>
        <source>Plan</source>
        <translation>Plan</translation>
    </message>
    <message>
        <source>No plan has been written here.</source>
        <translation>Hier wurde noch kein Plan geschrieben.</translation>
    </message>
    <message>
        <source>Found in the office</source>
        <translation>In der Praxis gefunden</translation>
    </message>
    <message>
        <source>Nothing has been entered.</source>
        <translation>Es wurde nichts eingetragen.</translation>
    </message>
    <message>
        <source>%1, by %2. %3</source>
        <translation>%1, von %2. %3</translation>
    </message>
    <message>
        <source>Their data</source>
        <translation>Die Daten dieser Person</translation>
    </message>
    <message>
        <source>Kept in a file that only this user of the computer may read; it is not encrypted. An encrypted disk protects it when the computer is lost.</source>
        <translation>In einer Datei, die nur dieser Benutzer des Computers lesen darf; sie ist nicht verschlüsselt. Eine verschlüsselte Platte schützt sie, wenn der Computer verloren geht.</translation>
    </message>
    <message>
        <source>Everything as files ...</source>
        <translation>Alles als Dateien ...</translation>
    </message>
    <message>
        <source>Folder for everything about this person</source>
        <translation>Ordner für alles über diese Person</translation>
    </message>
    <message>
        <source>Delete this person ...</source>
        <translation>Diese Person löschen ...</translation>
    </message>
    <message>
        <source>Delete for good: press again</source>
        <translation>Endgültig löschen: noch einmal drücken</translation>
    </message>
    <message>
        <source>Everything about %1 would be deleted and overwritten; nobody could bring it back. Press the button again to do it, or Escape to leave.</source>
        <translation>Alles über %1 würde gelöscht und überschrieben; niemand könnte es zurückholen. Drücken Sie den Knopf noch einmal, um es zu tun, oder Escape, um zu gehen.</translation>
    </message>
    <message>
        <source>%1: this folder cannot be made.</source>
        <translation>%1: Dieser Ordner lässt sich nicht anlegen.</translation>
    </message>
    <message numerus="yes">
        <source>%n file(s) were written to %1. They name the person.</source>
        <translation>
            <numerusform>%n Datei wurde nach %1 geschrieben. Sie nennt die Person.</numerusform>
            <numerusform>%n Dateien wurden nach %1 geschrieben. Sie nennen die Person.</numerusform>
        </translation>
    </message>
    <message>
        <source>Name</source>
        <translation>Name</translation>
    </message>
    <message>
        <source>Number in your records</source>
        <translation>Nummer in Ihren Akten</translation>
    </message>
    <message>
        <source>Year of birth: decides the limit and the norm</source>
        <translation>Geburtsjahr: entscheidet über Grenze und Norm</translation>
    </message>
    <message>
        <source>Keep these</source>
        <translation>So behalten</translation>
    </message>
    <message>
        <source>&quot;%1&quot; is no year of birth; expected one like 2014.</source>
        <translation>„%1“ ist kein Geburtsjahr; erwartet wird eines wie 2014.</translation>
    </message>
    <message>
        <source>(as the newest measurement has it, since no year of birth is known).</source>
        <translation>(wie in der neuesten Messung, da kein Geburtsjahr bekannt ist).</translation>
    </message>
    <message>
        <source>on its day, against %1: %2</source>
        <translation>am Tag der Messung, gegen %1: %2</translation>
    </message>
</context>
<context>
    <name>nearpoint::PatientsPage</name>
    <message>
        <source>Who needs a look</source>
        <translation>Wer einen Blick braucht</translation>
    </message>
    <message>
        <source>Back to the start</source>
        <translation>Zurück zum Anfang</translation>
    </message>
    <message>
        <source>Set up</source>
        <translation>Einrichten</translation>
    </message>
    <message numerus="yes">
        <source>Receive (%n waiting)</source>
        <translation>
            <numerusform>Empfangen (%n wartet)</numerusform>
            <numerusform>Empfangen (%n warten)</numerusform>
        </translation>
    </message>
    <message>
        <source>Receive</source>
        <translation>Empfangen</translation>
    </message>
    <message>
        <source>name or number</source>
        <translation>Name oder Nummer</translation>
    </message>
    <message>
        <source>Find a patient by name or number</source>
        <translation>Patienten nach Name oder Nummer finden</translation>
    </message>
    <message>
        <source>Patients, the most urgent first</source>
        <translation>Patienten, die dringendsten zuerst</translation>
    </message>
    <message>
        <source>Open</source>
        <translation>Öffnen</translation>
    </message>
    <message>
        <source>Nobody is here yet. &quot;Set up&quot; makes the keys of this clinic; &quot;Receive&quot; takes in what homes send.</source>
        <translation>Hier ist noch niemand. „Einrichten“ legt die Schlüssel dieser Praxis an; „Empfangen“ nimmt auf, was von zu Hause kommt.</translation>
    </message>
    <message numerus="yes">
        <source>%1 of %n patient(s) have something that asks for a look, the most urgent first.</source>
        <translation>
            <numerusform>Bei %1 von %n Patient verlangt etwas einen Blick.</numerusform>
            <numerusform>Bei %1 von %n Patienten verlangt etwas einen Blick, die dringendsten zuerst.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::PlanFilePage</name>
    <message>
        <source>Plan from my clinic</source>
        <translation>Plan aus meiner Praxis</translation>
    </message>
    <message>
        <source>You see the plan before it is used.</source>
        <translation>Du siehst den Plan, bevor er gilt.</translation>
    </message>
    <message>
        <source>Back to my diary</source>
        <translation>Zurück zum Tagebuch</translation>
    </message>
    <message>
        <source>Choose the file ...</source>
        <translation>Datei auswählen ...</translation>
    </message>
    <message>
        <source>Plan from a file</source>
        <translation>Plan aus einer Datei</translation>
    </message>
    <message>
        <source>Plans (*.nearpoint *.json);;All files (*)</source>
        <translation>Pläne (*.nearpoint *.json);;Alle Dateien (*)</translation>
    </message>
    <message>
        <source>Use this plan</source>
        <translation>Diesen Plan verwenden</translation>
    </message>
    <message>
        <source>%1: is not from a clinic whose card you have. Its fingerprint is %2.</source>
        <translation>%1: kommt nicht von einer Praxis, deren Karte du hast. Ihr Fingerabdruck ist %2.</translation>
    </message>
    <message>
        <source>This plan is for &quot;%1&quot;. Choose that person on the start page first.</source>
        <translation>Dieser Plan ist für „%1“. Wähle zuerst auf der Startseite diese Person.</translation>
    </message>
    <message>
        <source>This file carries no seal: nobody vouches that it comes from your clinic. Use it only if you know where it is from.</source>
        <translation>Diese Datei trägt kein Siegel: Niemand bürgt dafür, dass sie aus deiner Praxis kommt. Verwende sie nur, wenn du weißt, woher sie ist.</translation>
    </message>
    <message>
        <source>✓ Sealed by %1.</source>
        <translation>✓ Versiegelt von %1.</translation>
    </message>
    <message>
        <source>The plan</source>
        <translation>Der Plan</translation>
    </message>
    <message>
        <source>Distances from the front of the eyes: %1.</source>
        <translation>Abstände von der Vorderseite der Augen: %1.</translation>
    </message>
    <message>
        <source>It begins on %1.</source>
        <translation>Er beginnt am %1.</translation>
    </message>
    <message>
        <source>Measure again on: %1.</source>
        <translation>Wieder messen am: %1.</translation>
    </message>
    <message>
        <source>Stop and ask your clinic when</source>
        <translation>Aufhören und in der Praxis fragen, wenn</translation>
    </message>
</context>
<context>
    <name>nearpoint::PlanPage</name>
    <message>
        <source>Plan</source>
        <translation>Plan</translation>
    </message>
    <message>
        <source>Back to the person</source>
        <translation>Zurück zur Person</translation>
    </message>
    <message>
        <source>Distances, mm from the cornea, far to near</source>
        <translation>Abstände, mm von der Hornhaut, fern bis nah</translation>
    </message>
    <message>
        <source>Repetitions in one session</source>
        <translation>Wiederholungen je Übung</translation>
    </message>
    <message>
        <source>Held for, seconds</source>
        <translation>Gehalten, Sekunden</translation>
    </message>
    <message>
        <source>Begin with distance number</source>
        <translation>Beginnen mit Abstand Nummer</translation>
    </message>
    <message>
        <source>Days a week</source>
        <translation>Tage in der Woche</translation>
    </message>
    <message>
        <source>First day, as 2026-03-16; may stay empty</source>
        <translation>Erster Tag, wie 2026-03-16; darf leer bleiben</translation>
    </message>
    <message>
        <source>Last day; may stay empty</source>
        <translation>Letzter Tag; darf leer bleiben</translation>
    </message>
    <message>
        <source>Measure again on, dates in order</source>
        <translation>Wieder messen am, Tage der Reihe nach</translation>
    </message>
    <message>
        <source>Stop and ask when, one sentence a line</source>
        <translation>Aufhören und fragen, wenn: ein Satz je Zeile</translation>
    </message>
    <message>
        <source>Words to the patient</source>
        <translation>Worte an den Patienten</translation>
    </message>
    <message>
        <source>The plan goes home as a file that only that device can open and that carries this clinic&apos;s signature; the patient sees it before it is used.</source>
        <translation>Der Plan geht als Datei nach Hause, die nur das Gerät dort öffnen kann und die die Unterschrift dieser Praxis trägt; der Patient sieht ihn, bevor er gilt.</translation>
    </message>
    <message>
        <source>Double vision stays after stopping.</source>
        <translation>Doppelbilder bleiben nach dem Aufhören.</translation>
    </message>
    <message>
        <source>It hurts, or you feel dizzy or sick.</source>
        <translation>Es tut weh, oder dir wird schwindlig oder übel.</translation>
    </message>
    <message>
        <source>A beginning from common practice, to be changed.</source>
        <translation>Ein Anfang nach üblicher Praxis, zum Ändern.</translation>
    </message>
    <message>
        <source>Keep only</source>
        <translation>Nur behalten</translation>
    </message>
    <message>
        <source>Keep and seal ...</source>
        <translation>Behalten und versiegeln ...</translation>
    </message>
    <message>
        <source>Sealed plan</source>
        <translation>Versiegelter Plan</translation>
    </message>
    <message>
        <source>Sealed files (*.nearpoint)</source>
        <translation>Versiegelte Dateien (*.nearpoint)</translation>
    </message>
    <message>
        <source>&quot;%1&quot; is no distance in millimetres.</source>
        <translation>„%1“ ist kein Abstand in Millimetern.</translation>
    </message>
    <message>
        <source>&quot;%1&quot; is no date; expected one like 2026-03-16.</source>
        <translation>„%1“ ist kein Datum; erwartet wird eines wie 2026-03-16.</translation>
    </message>
    <message>
        <source>No device of this person is known yet: they send first, and you match them.</source>
        <translation>Von dieser Person ist noch kein Gerät bekannt: Sie sendet zuerst, und Sie ordnen sie zu.</translation>
    </message>
    <message>
        <source>The plan is kept, and sealed for &quot;%1&quot; in %2.</source>
        <translation>Der Plan ist behalten und für „%1“ versiegelt in %2.</translation>
    </message>
    <message>
        <source>In the morning</source>
        <translation>Am Morgen</translation>
    </message>
    <message>
        <source>Nearer than the measured break of %1: %2. Is that meant?</source>
        <translation>Näher als der gemessene Abreißpunkt von %1: %2. Ist das so gewollt?</translation>
    </message>
</context>
<context>
    <name>nearpoint::ReceivePage</name>
    <message>
        <source>Receive</source>
        <translation>Empfangen</translation>
    </message>
    <message>
        <source>Drop sealed files here, or choose them.</source>
        <translation>Ziehen Sie versiegelte Dateien hierher, oder wählen Sie sie aus.</translation>
    </message>
    <message>
        <source>All patients</source>
        <translation>Alle Patienten</translation>
    </message>
    <message>
        <source>Choose files ...</source>
        <translation>Dateien auswählen ...</translation>
    </message>
    <message>
        <source>Sealed files</source>
        <translation>Versiegelte Dateien</translation>
    </message>
    <message>
        <source>Sealed files (*.nearpoint);;All files (*)</source>
        <translation>Versiegelte Dateien (*.nearpoint);;Alle Dateien (*)</translation>
    </message>
    <message>
        <source>%1: the folder to be watched is not there.</source>
        <translation>%1: Der Ordner, der beobachtet werden soll, ist nicht da.</translation>
    </message>
    <message>
        <source>This clinic has no keys yet. Make them under &quot;Set up&quot;; homes need its card before they can send.</source>
        <translation>Diese Praxis hat noch keine Schlüssel. Legen Sie sie unter „Einrichten“ an; zu Hause braucht man ihre Karte, bevor man senden kann.</translation>
    </message>
    <message>
        <source>What came</source>
        <translation>Was gekommen ist</translation>
    </message>
    <message>
        <source>larger than a sealed file may be; it was not opened.</source>
        <translation>größer, als eine versiegelte Datei sein darf; sie wurde nicht geöffnet.</translation>
    </message>
    <message>
        <source>sealed for somebody else, not for this clinic.</source>
        <translation>für jemand anderen versiegelt, nicht für diese Praxis.</translation>
    </message>
    <message>
        <source>not taken: it is damaged, was tampered with, or is no sealed file that this version knows.</source>
        <translation>nicht angenommen: Sie ist beschädigt, wurde verändert oder ist keine versiegelte Datei, die diese Version kennt.</translation>
    </message>
    <message>
        <source>was here before; nothing changed.</source>
        <translation>war schon da; nichts wurde geändert.</translation>
    </message>
    <message>
        <source>from &quot;%1&quot;, who is not known yet; it waits below.</source>
        <translation>von „%1“, noch nicht bekannt; sie wartet unten.</translation>
    </message>
    <message numerus="yes">
        <source>%n new measurement(s) of %1.</source>
        <translation>
            <numerusform>%n neue Messung von %1.</numerusform>
            <numerusform>%n neue Messungen von %1.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n were here already.</source>
        <translation>
            <numerusform>%n war schon da.</numerusform>
            <numerusform>%n waren schon da.</numerusform>
        </translation>
    </message>
    <message>
        <source>Nothing waits to be matched to a person.</source>
        <translation>Nichts wartet auf eine Zuordnung.</translation>
    </message>
    <message>
        <source>Waiting: whose is this?</source>
        <translation>Wartet: Von wem ist das?</translation>
    </message>
    <message>
        <source>The sender calls themselves &quot;%1&quot;.</source>
        <translation>Der Absender nennt sich „%1“.</translation>
    </message>
    <message>
        <source>This device already sends for another person: perhaps one of the same family.</source>
        <translation>Dieses Gerät sendet schon für eine andere Person: vielleicht dieselbe Familie.</translation>
    </message>
    <message>
        <source>Fingerprint: %1</source>
        <translation>Fingerabdruck: %1</translation>
    </message>
    <message>
        <source>Have them read out their fingerprint, by telephone or face to face, and compare it: only then it is certain who sent this.</source>
        <translation>Lassen Sie sich den Fingerabdruck vorlesen, am Telefon oder von Angesicht, und vergleichen Sie ihn: Erst dann ist sicher, wer das gesendet hat.</translation>
    </message>
    <message numerus="yes">
        <source>%n file(s) inside.</source>
        <translation>
            <numerusform>%n Datei darin.</numerusform>
            <numerusform>%n Dateien darin.</numerusform>
        </translation>
    </message>
    <message>
        <source>Whose it is</source>
        <translation>Von wem es ist</translation>
    </message>
    <message>
        <source>a new person named &quot;%1&quot;</source>
        <translation>eine neue Person namens „%1“</translation>
    </message>
    <message>
        <source>It is this person</source>
        <translation>Es ist diese Person</translation>
    </message>
    <message>
        <source>Refuse and delete</source>
        <translation>Ablehnen und löschen</translation>
    </message>
    <message>
        <source>Record server</source>
        <translation>Aktenserver</translation>
    </message>
    <message>
        <source>%1: what homes have sealed for this clinic and left there comes as a file would.</source>
        <translation>%1: Was zu Hause für diese Praxis versiegelt und dort abgelegt wurde, kommt wie eine Datei.</translation>
    </message>
    <message>
        <source>Ask the record server</source>
        <translation>Den Aktenserver fragen</translation>
    </message>
    <message>
        <source>Asking ...</source>
        <translation>Es wird gefragt ...</translation>
    </message>
    <message>
        <source>The server is busy or out of reach; trying again in %1 s.</source>
        <translation>Der Server ist beschäftigt oder nicht zu erreichen; neuer Versuch in %1 s.</translation>
    </message>
    <message>
        <source>Nothing new lies on the server.</source>
        <translation>Auf dem Server liegt nichts Neues.</translation>
    </message>
    <message>
        <source>The server has been asked.</source>
        <translation>Der Server wurde gefragt.</translation>
    </message>
    <message>
        <source>lies on the server without its file.</source>
        <translation>liegt ohne seine Datei auf dem Server.</translation>
    </message>
</context>
<context>
    <name>nearpoint::SendPage</name>
    <message>
        <source>Send to my clinic</source>
        <translation>An meine Praxis senden</translation>
    </message>
    <message>
        <source>Back to the start</source>
        <translation>Zurück zum Anfang</translation>
    </message>
    <message>
        <source>Say first who you are, on the start page.</source>
        <translation>Sag zuerst auf der Startseite, wer du bist.</translation>
    </message>
    <message>
        <source>Seal and save ...</source>
        <translation>Versiegeln und speichern ...</translation>
    </message>
    <message>
        <source>Sealed file</source>
        <translation>Versiegelte Datei</translation>
    </message>
    <message>
        <source>Sealed files (*.nearpoint)</source>
        <translation>Versiegelte Dateien (*.nearpoint)</translation>
    </message>
    <message>
        <source>What to send</source>
        <translation>Was gesendet wird</translation>
    </message>
    <message>
        <source>Nothing has been measured yet.</source>
        <translation>Es wurde noch nichts gemessen.</translation>
    </message>
    <message>
        <source>The exercise diary</source>
        <translation>Das Übungstagebuch</translation>
    </message>
    <message>
        <source>What is inside then</source>
        <translation>Was dann darin ist</translation>
    </message>
    <message>
        <source>Nothing is chosen.</source>
        <translation>Nichts ist ausgewählt.</translation>
    </message>
    <message>
        <source>To whom</source>
        <translation>An wen</translation>
    </message>
    <message>
        <source>My own card</source>
        <translation>Meine eigene Karte</translation>
    </message>
    <message>
        <source>It signs what you send. Your clinic asks you once to read its fingerprint aloud.</source>
        <translation>Sie unterschreibt, was du sendest. Deine Praxis bittet dich einmal, den Fingerabdruck vorzulesen.</translation>
    </message>
    <message>
        <source>name of this device or family</source>
        <translation>Name dieses Geräts oder der Familie</translation>
    </message>
    <message>
        <source>Add the card of your clinic first.</source>
        <translation>Nimm zuerst die Karte deiner Praxis auf.</translation>
    </message>
    <message>
        <source>Make your own card first.</source>
        <translation>Leg zuerst deine eigene Karte an.</translation>
    </message>
    <message>
        <source>✓ Sealed for %1: %2</source>
        <translation>✓ Für %1 versiegelt: %2</translation>
    </message>
    <message>
        <source>A file is made that only your clinic can open. You take it there or send it as you like.</source>
        <translation>Es entsteht eine Datei, die nur deine Praxis öffnen kann. Du bringst sie dorthin oder sendest sie, wie du möchtest.</translation>
    </message>
    <message>
        <source>Pictures of the eyes</source>
        <translation>Bilder der Augen</translation>
    </message>
    <message>
        <source>Over the clinic&apos;s server</source>
        <translation>Über den Server der Praxis</translation>
    </message>
    <message>
        <source>Pictures of my eyes</source>
        <translation>Bilder meiner Augen</translation>
    </message>
</context>
<context>
    <name>nearpoint::ServerWay</name>
    <message>
        <source>While this is empty, nothing leaves this computer by itself. With the address that your clinic gave you, the sealed file can be left on its server; the server cannot open it.</source>
        <translation>Solange dies leer ist, verlässt nichts von selbst diesen Rechner. Mit der Adresse, die deine Praxis dir gab, kann die versiegelte Datei auf ihrem Server abgelegt werden; der Server kann sie nicht öffnen.</translation>
    </message>
    <message>
        <source>Address of the clinic&apos;s server</source>
        <translation>Adresse des Servers der Praxis</translation>
    </message>
    <message>
        <source>✓ The server has just this already; nothing was sent.</source>
        <translation>✓ Der Server hat genau dies schon; es wurde nichts gesendet.</translation>
    </message>
    <message>
        <source>Sending ...</source>
        <translation>Wird gesendet ...</translation>
    </message>
    <message>
        <source>The server is busy or out of reach; trying again in %1 s.</source>
        <translation>Der Server ist beschäftigt oder nicht zu erreichen; neuer Versuch in %1 s.</translation>
    </message>
    <message>
        <source>✓ Sealed and left on the server of your clinic.</source>
        <translation>✓ Versiegelt und auf dem Server deiner Praxis abgelegt.</translation>
    </message>
    <message>
        <source>Leave on the server</source>
        <translation>Auf dem Server ablegen</translation>
    </message>
</context>
<context>
    <name>nearpoint::TimeLineView</name>
    <message>
        <source>Near point over time</source>
        <translation>Nahpunkt im Verlauf</translation>
    </message>
    <message>
        <source>limit %1</source>
        <translation>Grenze %1</translation>
    </message>
    <message>
        <source>Break, cm from the cornea</source>
        <translation>Abreißpunkt, cm von der Hornhaut</translation>
    </message>
</context>
<context>
    <name>nearpoint::TokenField</name>
    <message>
        <source>token of the server</source>
        <translation>Zugangsschlüssel des Servers</translation>
    </message>
    <message>
        <source>Kept in the keyring of this computer once the server has accepted it.</source>
        <translation>Bleibt im Schlüsselbund dieses Rechners, sobald der Server ihn angenommen hat.</translation>
    </message>
    <message>
        <source>No keyring of the system can be used here: the token is forgotten when the window closes, and is in no file.</source>
        <translation>Hier ist kein Schlüsselbund des Systems benutzbar: Der Zugangsschlüssel wird vergessen, wenn das Fenster schließt, und steht in keiner Datei.</translation>
    </message>
</context>
</TS>
