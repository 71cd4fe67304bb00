<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" language="de_DE" sourcelanguage="en_US">
<context>
    <name>AtEvent</name>
    <message>
        <source>School event</source>
        <translation>Reihenmessung an einer Schule</translation>
    </message>
</context>
<context>
    <name>EventSentences</name>
    <message>
        <source>The event has no name; expected one.</source>
        <translation>Die Reihenmessung hat keinen Namen; erwartet wird einer.</translation>
    </message>
    <message>
        <source>&quot;%1&quot; is no day; expected one like 2026-03-14.</source>
        <translation>„%1“ ist kein Tag; erwartet wird einer wie 2026-03-14.</translation>
    </message>
    <message>
        <source>This child is not on the list of the event.</source>
        <translation>Dieses Kind steht nicht auf der Liste der Reihenmessung.</translation>
    </message>
    <message>
        <source>Number %1 (line %2) is taken in this event; nothing was imported.</source>
        <translation>Nummer %1 (Zeile %2) ist in dieser Reihenmessung schon vergeben; nichts wurde übernommen.</translation>
    </message>
    <message>
        <source>Number %1 is taken in this event.</source>
        <translation>Nummer %1 ist in dieser Reihenmessung schon vergeben.</translation>
    </message>
    <message>
        <source>A number is needed.</source>
        <translation>Eine Nummer wird gebraucht.</translation>
    </message>
    <message>
        <source>There is no consent for this child; nothing was kept.</source>
        <translation>Für dieses Kind liegt keine Einwilligung vor; nichts wurde festgehalten.</translation>
    </message>
    <message>
        <source>This station has measured nobody that could be undone.</source>
        <translation>Dieser Platz hat niemanden gemessen, der zurückgenommen werden könnte.</translation>
    </message>
    <message>
        <source>Neither of the two has a measurement to swap.</source>
        <translation>Keines der beiden hat eine Messung, die getauscht werden könnte.</translation>
    </message>
    <message>
        <source>Who goes on? A first name is enough.</source>
        <translation>Wer macht weiter? Ein Vorname genügt.</translation>
    </message>
    <message>
        <source>This measurement of the child does not stand.</source>
        <translation>Diese Messung des Kindes gilt nicht mehr.</translation>
    </message>
    <message>
        <source>This event was deleted by its organiser; nothing more can be recorded in it.</source>
        <translation>Diese Reihenmessung wurde von der Leitung gelöscht; es kann nichts mehr festgehalten werden.</translation>
    </message>
    <message>
        <source>This event is not on this computer.</source>
        <translation>Diese Reihenmessung ist nicht auf diesem Rechner.</translation>
    </message>
    <message>
        <source>The number %1 was given to %2 children.</source>
        <translation>Die Nummer %1 wurde an %2 Kinder vergeben.</translation>
    </message>
    <message>
        <source>A measurement of %1 belongs to a child that no station has listed yet.</source>
        <translation>Eine Messung von %1 gehört zu einem Kind, das noch kein Platz auf der Liste hat.</translation>
    </message>
    <message>
        <source>%1: the event&apos;s server cannot be reached (%2).</source>
        <translation>%1: Der Server der Reihenmessung ist nicht zu erreichen (%2).</translation>
    </message>
    <message>
        <source>%1: the event&apos;s server is not reachable now (%2).</source>
        <translation>%1: Der Server der Reihenmessung ist gerade nicht zu erreichen (%2).</translation>
    </message>
    <message>
        <source>%1: this is not the event&apos;s server, or its certificate is another one by now; nothing was sent. Join with the file that the server&apos;s laptop wrote when it was started (%2).</source>
        <translation>%1: Das ist nicht der Server der Reihenmessung, oder sein Zertifikat ist inzwischen ein anderes; nichts wurde gesendet. Bitte mit der Datei beitreten, die der Rechner des Servers beim Start geschrieben hat (%2).</translation>
    </message>
    <message>
        <source>%1: without its certificate nobody can tell whether this is the event&apos;s server; join with the file that the server&apos;s laptop wrote.</source>
        <translation>%1: Ohne sein Zertifikat kann niemand sagen, ob das der Server der Reihenmessung ist; bitte mit der Datei beitreten, die der Rechner des Servers geschrieben hat.</translation>
    </message>
    <message>
        <source>&quot;%1&quot; is no address of a server; expected postgresql://USER@HOST:PORT/NAME.</source>
        <translation>„%1“ ist keine Adresse eines Servers; erwartet wird postgresql://USER@HOST:PORT/NAME.</translation>
    </message>
    <message>
        <source>%1: two stations carry the same identity; was the folder of one copied to another laptop? Give the copy a fresh folder (%2).</source>
        <translation>%1: Zwei Plätze haben dieselbe Kennung; wurde der Ordner des einen auf einen anderen Rechner kopiert? Die Kopie braucht einen neuen Ordner (%2).</translation>
    </message>
    <message>
        <source>Two laptops carry the same identity: the folder of a station was copied, or taken back from an older copy. Nothing was merged; give one of them a fresh folder with --data and export what only it holds.</source>
        <translation>Zwei Rechner haben dieselbe Kennung: Der Ordner eines Platzes wurde kopiert oder aus einer älteren Kopie zurückgeholt. Nichts wurde abgeglichen; geben Sie einem der beiden mit --data einen neuen Ordner und exportieren Sie, was nur er hat.</translation>
    </message>
    <message>
        <source>%1: another window of this program is writing to it; try again (%2).</source>
        <translation>%1: Ein anderes Fenster dieses Programms schreibt gerade hinein; bitte noch einmal versuchen (%2).</translation>
    </message>
    <message>
        <source>%1: another window of this program is reading it; deleting goes on at the next merge.</source>
        <translation>%1: Ein anderes Fenster dieses Programms liest gerade darin; das Löschen geht beim nächsten Abgleich weiter.</translation>
    </message>
    <message>
        <source>%1: traces of deleted children are still in this file; close every window of this program and delete again.</source>
        <translation>%1: In dieser Datei sind noch Spuren gelöschter Kinder; bitte alle Fenster dieses Programms schließen und noch einmal löschen.</translation>
    </message>
    <message>
        <source>%1: this file cannot be written; make room on the disk or check the permissions (%2).</source>
        <translation>%1: Diese Datei kann nicht geschrieben werden; bitte Platz schaffen oder die Rechte prüfen (%2).</translation>
    </message>
    <message>
        <source>The roster has %1 faults; nothing was imported. Mend them in the file and read it again.</source>
        <translation>Die Liste hat %1 Fehler; nichts wurde übernommen. Bitte in der Datei berichtigen und neu einlesen.</translation>
    </message>
    <message>
        <source>Column %1 was chosen; the file has %2.</source>
        <translation>Spalte %1 wurde gewählt; die Datei hat %2.</translation>
    </message>
    <message>
        <source>One column was chosen for two fields.</source>
        <translation>Eine Spalte wurde für zwei Felder gewählt.</translation>
    </message>
    <message>
        <source>No column is the number or the name; the first row must name the columns, or choose them by hand.</source>
        <translation>Keine Spalte ist die Nummer oder der Name; die erste Zeile muss die Spalten benennen, oder sie werden von Hand gewählt.</translation>
    </message>
    <message>
        <source>There is no child below the first row.</source>
        <translation>Unter der ersten Zeile steht kein Kind.</translation>
    </message>
    <message>
        <source>%1 rows; expected at most %2.</source>
        <translation>%1 Zeilen; erwartet werden höchstens %2.</translation>
    </message>
    <message>
        <source>%1: the file is damaged or cut off.</source>
        <translation>%1: Die Datei ist beschädigt oder abgeschnitten.</translation>
    </message>
    <message>
        <source>%1: the file is locked with a password; save it without one.</source>
        <translation>%1: Die Datei ist mit einem Passwort gesperrt; bitte ohne speichern.</translation>
    </message>
    <message>
        <source>%1: a sheet of this file is too large.</source>
        <translation>%1: Ein Blatt dieser Datei ist zu groß.</translation>
    </message>
    <message>
        <source>%1: the sheet is too large for a list of children; remove what does not belong to it.</source>
        <translation>%1: Das Blatt ist zu groß für eine Liste von Kindern; bitte entfernen, was nicht dazugehört.</translation>
    </message>
    <message>
        <source>%1: no sheet is in this file; expected a workbook (.xlsx, .ods) or a list saved as CSV.</source>
        <translation>%1: In dieser Datei ist kein Blatt; erwartet wird eine Arbeitsmappe (.xlsx, .ods) oder eine als CSV gespeicherte Liste.</translation>
    </message>
    <message>
        <source>%1: the sheet has no rows.</source>
        <translation>%1: Das Blatt hat keine Zeilen.</translation>
    </message>
    <message>
        <source>The names of the columns stand here once more.</source>
        <translation>Hier stehen noch einmal die Namen der Spalten.</translation>
    </message>
    <message>
        <source>This looks like a sum and not like a child.</source>
        <translation>Das sieht nach einer Summe aus und nicht nach einem Kind.</translation>
    </message>
    <message>
        <source>%1 cells; expected %2 as in the first row (a separator inside a name needs quotes).</source>
        <translation>%1 Zellen; erwartet werden %2 wie in der ersten Zeile (ein Trennzeichen in einem Namen braucht Anführungszeichen).</translation>
    </message>
    <message>
        <source>%1 cells; expected %2 as in the first row.</source>
        <translation>%1 Zellen; erwartet werden %2 wie in der ersten Zeile.</translation>
    </message>
    <message>
        <source>A quote stands where none belongs; expected it doubled, inside a quoted cell.</source>
        <translation>Ein Anführungszeichen steht, wo keines hingehört; erwartet wird es doppelt, in einer Zelle in Anführungszeichen.</translation>
    </message>
    <message>
        <source>Neither a number nor a name; expected one of them.</source>
        <translation>Weder Nummer noch Name; erwartet wird eines von beiden.</translation>
    </message>
    <message>
        <source>Number %1 has no name; expected one, or a row less.</source>
        <translation>Nummer %1 hat keinen Namen; erwartet wird einer, oder eine Zeile weniger.</translation>
    </message>
    <message>
        <source>The age does not go with the day of birth; expected about %1 years.</source>
        <translation>Das Alter passt nicht zum Geburtstag; erwartet werden etwa %1 Jahre.</translation>
    </message>
    <message>
        <source>The number is missing; expected one for every child.</source>
        <translation>Die Nummer fehlt; erwartet wird eine für jedes Kind.</translation>
    </message>
    <message>
        <source>Number %1 stands in line %2 already.</source>
        <translation>Nummer %1 steht schon in Zeile %2.</translation>
    </message>
    <message>
        <source>%1 of the same class and age stands in line %2 already.</source>
        <translation>%1 mit gleicher Klasse und gleichem Alter steht schon in Zeile %2.</translation>
    </message>
    <message>
        <source>%1 stands in line %2 already, and nothing tells the two apart; expected a class or an age.</source>
        <translation>%1 steht schon in Zeile %2, und nichts unterscheidet die beiden; erwartet wird eine Klasse oder ein Alter.</translation>
    </message>
    <message>
        <source>&quot;%1&quot;; expected %2.</source>
        <translation>„%1“; erwartet: %2.</translation>
    </message>
    <message>
        <source>one line</source>
        <translation>eine einzige Zeile</translation>
    </message>
    <message>
        <source>letters; one was lost when the file was saved</source>
        <translation>Buchstaben; beim Speichern der Datei ging einer verloren</translation>
    </message>
    <message>
        <source>letters without hidden characters</source>
        <translation>Buchstaben ohne versteckte Zeichen</translation>
    </message>
    <message>
        <source>a value; the spreadsheet could not compute it</source>
        <translation>ein Wert; die Tabelle konnte ihn nicht berechnen</translation>
    </message>
    <message>
        <source>letters; this was saved in the wrong encoding once</source>
        <translation>Buchstaben; das wurde einmal in der falschen Kodierung gespeichert</translation>
    </message>
    <message>
        <source>a name, not a formula</source>
        <translation>ein Name, keine Formel</translation>
    </message>
    <message>
        <source>a name, not an address</source>
        <translation>ein Name, keine Adresse</translation>
    </message>
    <message>
        <source>a name, or an empty cell and a number</source>
        <translation>ein Name, oder eine leere Zelle und eine Nummer</translation>
    </message>
    <message>
        <source>a name without digits</source>
        <translation>ein Name ohne Ziffern</translation>
    </message>
    <message>
        <source>at most %1 letters</source>
        <translation>höchstens %1 Buchstaben</translation>
    </message>
    <message>
        <source>letters, digits and hyphens, at most 16</source>
        <translation>Buchstaben, Ziffern und Bindestriche, höchstens 16</translation>
    </message>
    <message>
        <source>the whole number; the spreadsheet shortened it and its digits are lost</source>
        <translation>die ganze Nummer; die Tabelle hat sie gekürzt, und ihre Ziffern sind verloren</translation>
    </message>
    <message>
        <source>a whole number</source>
        <translation>eine ganze Zahl</translation>
    </message>
    <message>
        <source>an age of %1 to %2 years, not a year</source>
        <translation>ein Alter von %1 bis %2 Jahren, keine Jahreszahl</translation>
    </message>
    <message>
        <source>an age of %1 to %2 years</source>
        <translation>ein Alter von %1 bis %2 Jahren</translation>
    </message>
    <message>
        <source>a day of birth like 2017-03-14 or 14.03.2017; this is a day as a spreadsheet counts it: format the column as a date and save again</source>
        <translation>ein Geburtstag wie 2017-03-14 oder 14.03.2017; das ist ein Tag, wie eine Tabelle ihn zählt: die Spalte als Datum formatieren und neu speichern</translation>
    </message>
    <message>
        <source>a day of birth like 2017-03-14 or 14.03.2017, with four digits of the year</source>
        <translation>ein Geburtstag wie 2017-03-14 oder 14.03.2017, mit vierstelligem Jahr</translation>
    </message>
    <message>
        <source>a day of birth like 2017-03-14 or 14.03.2017; with slashes, day and month cannot be told apart here</source>
        <translation>ein Geburtstag wie 2017-03-14 oder 14.03.2017; mit Schrägstrichen sind Tag und Monat hier nicht zu unterscheiden</translation>
    </message>
    <message>
        <source>a day of birth like 2017-03-14 or 14.03.2017; there is no such day</source>
        <translation>ein Geburtstag wie 2017-03-14 oder 14.03.2017; diesen Tag gibt es nicht</translation>
    </message>
    <message>
        <source>a day of birth like 2017-03-14 or 14.03.2017, before the event</source>
        <translation>ein Geburtstag wie 2017-03-14 oder 14.03.2017, vor der Reihenmessung</translation>
    </message>
    <message>
        <source>a day of birth like 2017-03-14 or 14.03.2017</source>
        <translation>ein Geburtstag wie 2017-03-14 oder 14.03.2017</translation>
    </message>
    <message>
        <source>yes or no, or an empty cell where nobody asked</source>
        <translation>ja oder nein, oder eine leere Zelle, wo niemand gefragt hat</translation>
    </message>
    <message>
        <source>&quot;%1&quot; is no number; expected %2.</source>
        <translation>„%1“ ist keine Nummer; erwartet: %2.</translation>
    </message>
    <message>
        <source>Nobody said that this child needs looking after.</source>
        <translation>Niemand hat gesagt, dass dieses Kind Hilfe braucht.</translation>
    </message>
    <message>
        <source>%1 needs looking after and is not measured; call the person in charge.</source>
        <translation>%1 braucht Hilfe und wird nicht gemessen; rufen Sie die Leitung.</translation>
    </message>
    <message>
        <source>Column %1 (&quot;%2&quot;) was not understood; say what it is, or that it is not needed.</source>
        <translation>Spalte %1 („%2“) wurde nicht verstanden; sagen Sie, was sie ist oder dass sie nicht gebraucht wird.</translation>
    </message>
    <message>
        <source>This event is still locked here: its key comes as soon as another station that has it is connected.</source>
        <translation>Diese Reihenmessung ist hier noch verschlossen: Ihr Schlüssel kommt, sobald ein anderer Platz verbunden ist, der ihn hat.</translation>
    </message>
    <message>
        <source>A record on the server does not go with the key of its event: it was changed there, or the event was begun anew elsewhere. Nothing of it was taken over.</source>
        <translation>Ein Eintrag auf dem Server passt nicht zum Schlüssel seiner Reihenmessung: Er wurde dort geändert, oder sie wurde anderswo neu begonnen. Nichts davon wurde übernommen.</translation>
    </message>
</context>
<context>
    <name>EventWords</name>
    <message>
        <source>number %1</source>
        <translation>Nummer %1</translation>
    </message>
    <message>
        <source>consent refused</source>
        <translation>Einwilligung verweigert</translation>
    </message>
    <message>
        <source>ready</source>
        <translation>bereit</translation>
    </message>
    <message>
        <source>consent has to be recorded first</source>
        <translation>erst die Einwilligung festhalten</translation>
    </message>
    <message>
        <source>at this station</source>
        <translation>an diesem Platz</translation>
    </message>
    <message>
        <source>at another station</source>
        <translation>an einem anderen Platz</translation>
    </message>
    <message>
        <source>paused</source>
        <translation>Pause</translation>
    </message>
    <message>
        <source>has been here</source>
        <translation>war schon da</translation>
    </message>
    <message>
        <source>left without a measurement</source>
        <translation>ohne Messung gegangen</translation>
    </message>
    <message>
        <source>measured twice unseen</source>
        <translation>unbemerkt zweimal gemessen</translation>
    </message>
    <message>
        <source>within the limit</source>
        <translation>innerhalb der Grenze</translation>
    </message>
    <message>
        <source>see a professional</source>
        <translation>zu einer Fachperson</translation>
    </message>
    <message>
        <source>measure again</source>
        <translation>noch einmal messen</translation>
    </message>
    <message>
        <source>no number</source>
        <translation>kein Wert</translation>
    </message>
    <message>
        <source>This station works alone.</source>
        <translation>Dieser Platz arbeitet allein.</translation>
    </message>
    <message>
        <source>✓ Connected. Everything is handed over.</source>
        <translation>✓ Verbunden. Alles ist übergeben.</translation>
    </message>
    <message numerus="yes">
        <source>! No connection. Go on as usual: %n record(s) wait here and follow later.</source>
        <translation>
            <numerusform>! Keine Verbindung. Einfach weitermachen: %n Eintrag wartet hier und folgt später.</numerusform>
            <numerusform>! Keine Verbindung. Einfach weitermachen: %n Einträge warten hier und folgen später.</numerusform>
        </translation>
    </message>
    <message>
        <source>Of %1 children about %2 truly lie beyond the limit. By this rule about %3 are sent to a professional, %4 of them for nothing; %5 are measured again; %6 are missed.</source>
        <translation>Von %1 Kindern liegen etwa %2 wirklich jenseits der Grenze. Nach dieser Regel werden etwa %3 zu einer Fachperson geschickt, %4 davon umsonst; %5 werden noch einmal gemessen; %6 werden übersehen.</translation>
    </message>
    <message>
        <source>%1 from the cornea</source>
        <translation>%1 von der Hornhaut</translation>
    </message>
    <message>
        <source>%1 from where spectacles sit</source>
        <translation>%1 von der Brillenebene</translation>
    </message>
    <message>
        <source>%1 from the outer corner of the eye</source>
        <translation>%1 vom äußeren Augenwinkel</translation>
    </message>
    <message>
        <source>%1 from the centre of rotation</source>
        <translation>%1 vom Drehpunkt des Auges</translation>
    </message>
    <message numerus="yes">
        <source>%n round(s) are safe here</source>
        <translation>
            <numerusform>%n Durchgang gesichert</numerusform>
            <numerusform>%n Durchgänge gesichert</numerusform>
        </translation>
    </message>
    <message>
        <source>(given twice; this one at %1 UTC, %2)</source>
        <translation>(zweimal vergeben; dieses Kind um %1 UTC, %2)</translation>
    </message>
    <message>
        <source>not measured: the person in charge sees this child first</source>
        <translation>keine Messung: erst sieht die Leitung nach dem Kind</translation>
    </message>
    <message>
        <source>At home this program counts from the front of the eye; there the same near point reads %1 more.</source>
        <translation>Zu Hause zählt dieses Programm von der Vorderseite des Auges an; derselbe Nahpunkt ist dort um %1 größer.</translation>
    </message>
    <message>
        <source>At home this program counts from the front of the eye; there the same near point reads %1 less.</source>
        <translation>Zu Hause zählt dieses Programm von der Vorderseite des Auges an; derselbe Nahpunkt ist dort um %1 kleiner.</translation>
    </message>
    <message>
        <source>needs looking after</source>
        <translation>braucht Hilfe</translation>
    </message>
    <message numerus="yes">
        <source>%n entry (entries) of this station could not be written. Do not close the program: they are kept and tried again.</source>
        <translation>
            <numerusform>%n Eintrag dieses Platzes konnte nicht gespeichert werden. Schließen Sie das Programm nicht: Er bleibt im Speicher, und es wird wieder versucht.</numerusform>
            <numerusform>%n Einträge dieses Platzes konnten nicht gespeichert werden. Schließen Sie das Programm nicht: Sie bleiben im Speicher, und es wird wieder versucht.</numerusform>
        </translation>
    </message>
    <message>
        <source>! Connected. The event is here and still locked: its key comes as soon as another station that has it is connected.</source>
        <translation>! Verbunden. Die Reihenmessung ist hier und noch verschlossen: Ihr Schlüssel kommt, sobald ein anderer Platz verbunden ist, der ihn hat.</translation>
    </message>
</context>
<context>
    <name>PracticeNames</name>
    <message>
        <source>Easy</source>
        <translation>Einfach</translation>
    </message>
    <message>
        <source>Will Not Look</source>
        <translation>Schaut Nicht Hin</translation>
    </message>
    <message>
        <source>Presses At Once</source>
        <translation>Drückt Sofort</translation>
    </message>
    <message>
        <source>Moves Back</source>
        <translation>Weicht Zurück</translation>
    </message>
    <message>
        <source>Wears Glasses</source>
        <translation>Trägt Brille</translation>
    </message>
    <message>
        <source>Says Nothing</source>
        <translation>Sagt Nichts</translation>
    </message>
</context>
<context>
    <name>nearpoint::EventAfterPage</name>
    <message>
        <source>After the event</source>
        <translation>Nach der Reihenmessung</translation>
    </message>
    <message>
        <source>Back</source>
        <translation>Zurück</translation>
    </message>
    <message>
        <source>There is no event on this computer yet.</source>
        <translation>Auf diesem Rechner gibt es noch keine Reihenmessung.</translation>
    </message>
    <message>
        <source>For the organiser alone: this page shows results.</source>
        <translation>Nur für die Leitung: Diese Seite zeigt Ergebnisse.</translation>
    </message>
    <message>
        <source>Numbers</source>
        <translation>Zahlen</translation>
    </message>
    <message>
        <source>%1 children listed, %2 measured: %3 within the limit, %4 to see a professional, %5 to be measured again, %6 without a number.</source>
        <translation>%1 Kinder auf der Liste, %2 gemessen: %3 innerhalb der Grenze, %4 zu einer Fachperson, %5 noch einmal zu messen, %6 ohne Wert.</translation>
    </message>
    <message>
        <source>%1 rounds, %2 of them do not count. Half of the children took less than %3 seconds.</source>
        <translation>%1 Durchgänge, %2 davon zählen nicht. Die Hälfte der Kinder brauchte weniger als %3 Sekunden.</translation>
    </message>
    <message>
        <source>Age unknown</source>
        <translation>Alter unbekannt</translation>
    </message>
    <message>
        <source>Age %1</source>
        <translation>Alter %1</translation>
    </message>
    <message>
        <source>%1: %2 listed, %3 measured, %4 to see a professional, %5 again</source>
        <translation>%1: %2 auf der Liste, %3 gemessen, %4 zu einer Fachperson, %5 noch einmal</translation>
    </message>
    <message>
        <source>Measured twice unseen: %1</source>
        <translation>Unbemerkt zweimal gemessen: %1</translation>
    </message>
    <message>
        <source>Both stay in the file. Which one counts?</source>
        <translation>Beide Messungen bleiben erhalten. Welche zählt?</translation>
    </message>
    <message>
        <source>%1, %2</source>
        <translation>%1, %2</translation>
    </message>
    <message>
        <source>no value</source>
        <translation>kein Wert</translation>
    </message>
    <message>
        <source>Who needs what</source>
        <translation>Wer braucht was</translation>
    </message>
    <message>
        <source>Nobody so far.</source>
        <translation>Bisher niemand.</translation>
    </message>
    <message>
        <source>Letters and files</source>
        <translation>Briefe und Dateien</translation>
    </message>
    <message>
        <source>Letters to parents (PDF) ...</source>
        <translation>Briefe an die Eltern (PDF) ...</translation>
    </message>
    <message>
        <source>Tables and FHIR ...</source>
        <translation>Tabellen und FHIR ...</translation>
    </message>
    <message>
        <source>These files hold names and results. Deleting the event does not delete them.</source>
        <translation>Diese Dateien enthalten Namen und Ergebnisse. Wer die Reihenmessung löscht, löscht sie nicht mit.</translation>
    </message>
    <message>
        <source>Letters to parents</source>
        <translation>Briefe an die Eltern</translation>
    </message>
    <message>
        <source>Folder for the files</source>
        <translation>Ordner für die Dateien</translation>
    </message>
    <message numerus="yes">
        <source>%n letter(s) are in the file.</source>
        <translation>
            <numerusform>%n Brief ist in der Datei.</numerusform>
            <numerusform>%n Briefe sind in der Datei.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n child(ren) are in the tables.</source>
        <translation>
            <numerusform>%n Kind steht in den Tabellen.</numerusform>
            <numerusform>%n Kinder stehen in den Tabellen.</numerusform>
        </translation>
    </message>
    <message>
        <source>Delete the event</source>
        <translation>Die Reihenmessung löschen</translation>
    </message>
    <message>
        <source>From the server at once and from every station as soon as it connects; each says when it has done so. Write the letters and files first. Type the name of the event to go on: %1</source>
        <translation>Vom Server sofort und von jedem Platz, sobald er sich verbindet; jeder meldet, wann er es getan hat. Zuerst Briefe und Dateien schreiben. Zum Fortfahren den Namen der Reihenmessung eintippen: %1</translation>
    </message>
    <message>
        <source>The name of the event</source>
        <translation>Der Name der Reihenmessung</translation>
    </message>
    <message>
        <source>Delete everywhere</source>
        <translation>Überall löschen</translation>
    </message>
    <message>
        <source>Not measured: %1 waiting, %2 paused, %3 absent, %4 did not want to, %5 could not be measured, %6 need looking after, %7 refused.</source>
        <translation>Nicht gemessen: %1 warten, %2 in Pause, %3 nicht da, %4 wollten nicht, %5 konnten nicht gemessen werden, %6 brauchen Hilfe, %7 ohne Einwilligung.</translation>
    </message>
    <message>
        <source>Needs looking after: %1</source>
        <translation>Braucht Hilfe: %1</translation>
    </message>
    <message>
        <source>Its letter asks the parents to have it examined, whatever was measured, and no station measures it. Take this back only if it was pressed by mistake.</source>
        <translation>Der Brief bittet die Eltern um eine Untersuchung, was auch gemessen wurde, und kein Platz misst dieses Kind. Nehmen Sie das nur zurück, wenn es versehentlich gedrückt wurde.</translation>
    </message>
    <message>
        <source>It was a mistake: take it back</source>
        <translation>Ein Versehen: zurücknehmen</translation>
    </message>
    <message>
        <source>One number for two: %1</source>
        <translation>Eine Nummer für zwei: %1</translation>
    </message>
    <message>
        <source>Two stations that did not know of each other gave this number. Both children are kept. Give one of them another number, and the wristband with it.</source>
        <translation>Zwei Plätze, die nichts voneinander wussten, haben diese Nummer vergeben. Beide Kinder bleiben. Geben Sie einem von beiden eine andere Nummer und das Armband dazu.</translation>
    </message>
    <message>
        <source>Its new number</source>
        <translation>Die neue Nummer</translation>
    </message>
    <message>
        <source>its new number</source>
        <translation>die neue Nummer</translation>
    </message>
    <message>
        <source>Give it this number</source>
        <translation>Diese Nummer geben</translation>
    </message>
    <message>
        <source>Need looking after: %1, of them measured: %2; they count under no other finding.</source>
        <translation>Brauchen Hilfe: %1, davon gemessen: %2; sie zählen zu keinem anderen Ergebnis.</translation>
    </message>
</context>
<context>
    <name>nearpoint::EventPage</name>
    <message>
        <source>School event</source>
        <translation>Reihenmessung an einer Schule</translation>
    </message>
    <message>
        <source>Back</source>
        <translation>Zurück</translation>
    </message>
    <message>
        <source>There is no event on this computer yet. Begin one, or connect to the computer that has it.</source>
        <translation>Auf diesem Rechner gibt es noch keine Reihenmessung. Beginnen Sie eine oder verbinden Sie sich mit dem Rechner, der sie hat.</translation>
    </message>
    <message>
        <source>%1, %2: %3 children listed, %4 measured.</source>
        <translation>%1, %2: %3 Kinder auf der Liste, %4 gemessen.</translation>
    </message>
    <message>
        <source>Measure children</source>
        <translation>Kinder messen</translation>
    </message>
    <message>
        <source>Find a child, measure it, next one.</source>
        <translation>Kind finden, messen, das nächste.</translation>
    </message>
    <message>
        <source>Read the list of children</source>
        <translation>Die Liste der Kinder einlesen</translation>
    </message>
    <message>
        <source>After the event</source>
        <translation>Nach der Reihenmessung</translation>
    </message>
    <message>
        <source>Who needs what, letters to the parents, numbers, and deleting everything.</source>
        <translation>Wer was braucht, Briefe an die Eltern, Zahlen, und das Löschen.</translation>
    </message>
    <message>
        <source>Begin an event</source>
        <translation>Eine Reihenmessung beginnen</translation>
    </message>
    <message>
        <source>Begin another event</source>
        <translation>Eine weitere Reihenmessung beginnen</translation>
    </message>
    <message>
        <source>Its name, its day, and what counts as beyond the limit.</source>
        <translation>Name, Tag, und was als jenseits der Grenze gilt.</translation>
    </message>
    <message>
        <source>Leave practice</source>
        <translation>Übung verlassen</translation>
    </message>
    <message>
        <source>Practise with difficult children</source>
        <translation>Mit schwierigen Kindern üben</translation>
    </message>
    <message>
        <source>This station</source>
        <translation>Dieser Platz</translation>
    </message>
    <message>
        <source>Its name</source>
        <translation>Sein Name</translation>
    </message>
    <message>
        <source>such as: table at the window</source>
        <translation>etwa: Tisch am Fenster</translation>
    </message>
    <message>
        <source>Who measures</source>
        <translation>Wer misst</translation>
    </message>
    <message>
        <source>a first name is enough</source>
        <translation>ein Vorname genügt</translation>
    </message>
    <message>
        <source>The event&apos;s server</source>
        <translation>Der Server der Reihenmessung</translation>
    </message>
    <message>
        <source>Save and connect</source>
        <translation>Speichern und verbinden</translation>
    </message>
    <message>
        <source>The event that was deleted last</source>
        <translation>Die zuletzt gelöschte Reihenmessung</translation>
    </message>
    <message>
        <source>a station without a name</source>
        <translation>ein Platz ohne Namen</translation>
    </message>
    <message>
        <source>%1: deleted, and nothing found afterwards</source>
        <translation>%1: gelöscht, danach nichts mehr gefunden</translation>
    </message>
    <message>
        <source>%1: not yet; it deletes as soon as it connects</source>
        <translation>%1: noch nicht; er löscht, sobald er sich verbindet</translation>
    </message>
    <message>
        <source>Deleted on every station.</source>
        <translation>Auf allen Plätzen gelöscht.</translation>
    </message>
    <message>
        <source>Not deleted everywhere yet.</source>
        <translation>Noch nicht überall gelöscht.</translation>
    </message>
    <message>
        <source>A file from the school&apos;s office (CSV, xlsx, ods). Every mistake in it is shown by its row.</source>
        <translation>Eine Datei aus dem Sekretariat (CSV, xlsx, ods). Jeder Fehler darin wird mit seiner Zeile gezeigt.</translation>
    </message>
    <message>
        <source>empty: this station alone</source>
        <translation>leer: dieser Platz allein</translation>
    </message>
    <message>
        <source>Join with the server&apos;s file ...</source>
        <translation>Mit der Datei des Servers beitreten ...</translation>
    </message>
    <message>
        <source>station.json, which the server&apos;s laptop wrote: address, password and the certificate by which this station knows the server.</source>
        <translation>station.json, vom Rechner des Servers geschrieben: Adresse, Passwort und das Zertifikat, an dem dieser Platz den Server erkennt.</translation>
    </message>
    <message>
        <source>The server&apos;s file</source>
        <translation>Die Datei des Servers</translation>
    </message>
    <message>
        <source>The server never had a name: its copy was sealed, and the key is destroyed with each station&apos;s records.</source>
        <translation>Der Server hatte nie einen Namen: Seine Kopie war versiegelt, und der Schlüssel wird mit den Einträgen jedes Platzes vernichtet.</translation>
    </message>
    <message numerus="yes">
        <source>An older version had handed %n record(s) to the server unsealed: erase the server&apos;s folder (app/event-server erase).</source>
        <translation>
            <numerusform>Eine ältere Version hatte dem Server %n Eintrag unversiegelt gegeben: Löschen Sie den Ordner des Servers (app/event-server erase).</numerusform>
            <numerusform>Eine ältere Version hatte dem Server %n Einträge unversiegelt gegeben: Löschen Sie den Ordner des Servers (app/event-server erase).</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::EventRosterPage</name>
    <message>
        <source>The list of children</source>
        <translation>Die Liste der Kinder</translation>
    </message>
    <message>
        <source>File</source>
        <translation>Datei</translation>
    </message>
    <message>
        <source>path of the file</source>
        <translation>Pfad der Datei</translation>
    </message>
    <message>
        <source>Choose ...</source>
        <translation>Auswählen ...</translation>
    </message>
    <message>
        <source>What is wrong, row by row</source>
        <translation>Was nicht stimmt, Zeile für Zeile</translation>
    </message>
    <message>
        <source>Take them over</source>
        <translation>Übernehmen</translation>
    </message>
    <message>
        <source>Back</source>
        <translation>Zurück</translation>
    </message>
    <message>
        <source>Which column is what</source>
        <translation>Welche Spalte ist was</translation>
    </message>
    <message>
        <source>Number</source>
        <translation>Nummer</translation>
    </message>
    <message>
        <source>Name or first name</source>
        <translation>Name oder Vorname</translation>
    </message>
    <message>
        <source>Family name</source>
        <translation>Nachname</translation>
    </message>
    <message>
        <source>Class</source>
        <translation>Klasse</translation>
    </message>
    <message>
        <source>Age</source>
        <translation>Alter</translation>
    </message>
    <message>
        <source>Day of birth</source>
        <translation>Geburtstag</translation>
    </message>
    <message>
        <source>Consent</source>
        <translation>Einwilligung</translation>
    </message>
    <message>
        <source>There is no event on this computer yet.</source>
        <translation>Auf diesem Rechner gibt es noch keine Reihenmessung.</translation>
    </message>
    <message>
        <source>– none –</source>
        <translation>– keine –</translation>
    </message>
    <message>
        <source>Row %1</source>
        <translation>Zeile %1</translation>
    </message>
    <message numerus="yes">
        <source>✓ %n children, nothing wrong.</source>
        <translation>
            <numerusform>✓ %n Kind, alles in Ordnung.</numerusform>
            <numerusform>✓ %n Kinder, alles in Ordnung.</numerusform>
        </translation>
    </message>
    <message>
        <source>! Nothing is taken over while something is wrong: mend these rows in the file and read it again. Rows with mistakes: %1 of %2.</source>
        <translation>! Solange etwas nicht stimmt, wird nichts übernommen: Bitte diese Zeilen in der Datei berichtigen und sie neu einlesen. Zeilen mit Fehlern: %1 von %2.</translation>
    </message>
    <message>
        <source>A CSV file or a workbook with one child a row. The order of the columns does not matter.</source>
        <translation>Eine CSV-Datei oder Arbeitsmappe mit einem Kind je Zeile. Die Reihenfolge der Spalten spielt keine Rolle.</translation>
    </message>
    <message>
        <source>Tables (*.csv *.txt *.tsv *.xlsx *.ods)</source>
        <translation>Tabellen (*.csv *.txt *.tsv *.xlsx *.ods)</translation>
    </message>
    <message>
        <source>Not understood: what is it?</source>
        <translation>Nicht verstanden: Was ist das?</translation>
    </message>
    <message>
        <source>! Nothing is taken over yet: say below what each column is.</source>
        <translation>! Noch wird nichts übernommen: Sagen Sie unten, was jede Spalte ist.</translation>
    </message>
    <message>
        <source>column %1</source>
        <translation>Spalte %1</translation>
    </message>
    <message>
        <source>%1 (such as: %2)</source>
        <translation>%1 (etwa: %2)</translation>
    </message>
    <message>
        <source>– choose –</source>
        <translation>– wählen –</translation>
    </message>
    <message>
        <source>not needed</source>
        <translation>nicht gebraucht</translation>
    </message>
    <message>
        <source>Nothing is taken over until each of these columns has an answer. One of them may be the parents&apos; answer.</source>
        <translation>Nichts wird übernommen, bis jede dieser Spalten eine Antwort hat. Eine davon kann die Antwort der Eltern sein.</translation>
    </message>
</context>
<context>
    <name>nearpoint::EventSetUpPage</name>
    <message>
        <source>A new event</source>
        <translation>Eine neue Reihenmessung</translation>
    </message>
    <message>
        <source>such as: primary school, spring</source>
        <translation>etwa: Grundschule, Frühling</translation>
    </message>
    <message>
        <source>Name</source>
        <translation>Name</translation>
    </message>
    <message>
        <source>Day</source>
        <translation>Tag</translation>
    </message>
    <message>
        <source>Limit</source>
        <translation>Grenze</translation>
    </message>
    <message>
        <source>Schoolchildren, 6 cm (Hayes et al. 1998)</source>
        <translation>Schulkinder, 6 cm (Hayes und andere 1998)</translation>
    </message>
    <message>
        <source>The published one for each child&apos;s age</source>
        <translation>Die veröffentlichte für das Alter jedes Kindes</translation>
    </message>
    <message>
        <source>Rounds a child</source>
        <translation>Durchgänge je Kind</translation>
    </message>
    <message>
        <source>2, a third where needed</source>
        <translation>2, ein dritter wo nötig</translation>
    </message>
    <message>
        <source>3, up to 5 where needed</source>
        <translation>3, bis zu 5 wo nötig</translation>
    </message>
    <message>
        <source>1, a second where needed</source>
        <translation>1, ein zweiter wo nötig</translation>
    </message>
    <message>
        <source>&quot;See a professional&quot; from</source>
        <translation>„Zu einer Fachperson“ ab</translation>
    </message>
    <message>
        <source>%1 % sure that it lies beyond the limit</source>
        <translation>%1 % sicher, dass er jenseits der Grenze liegt</translation>
    </message>
    <message>
        <source>This computer&apos;s camera</source>
        <translation>Die Kamera dieses Rechners</translation>
    </message>
    <message>
        <source>not calibrated</source>
        <translation>nicht kalibriert</translation>
    </message>
    <message>
        <source>calibrated</source>
        <translation>kalibriert</translation>
    </message>
    <message>
        <source>What to expect</source>
        <translation>Was zu erwarten ist</translation>
    </message>
    <message>
        <source>Begin this event</source>
        <translation>Diese Reihenmessung beginnen</translation>
    </message>
    <message>
        <source>Back</source>
        <translation>Zurück</translation>
    </message>
    <message>
        <source>&quot;Measure again&quot; from</source>
        <translation>„Noch einmal messen“ ab</translation>
    </message>
    <message>
        <source>Distances are shown from</source>
        <translation>Abstände werden gezeigt ab</translation>
    </message>
    <message>
        <source>where spectacles sit</source>
        <translation>Brillenebene</translation>
    </message>
    <message>
        <source>the cornea</source>
        <translation>Hornhaut</translation>
    </message>
    <message>
        <source>the outer corner of the eye</source>
        <translation>äußerem Augenwinkel</translation>
    </message>
    <message>
        <source>the centre of rotation</source>
        <translation>Drehpunkt des Auges</translation>
    </message>
    <message>
        <source>Computed from the published share of children beyond 6 cm (at most 15 %; Hayes et al. 1998) and this program&apos;s errors on rendered faces. On real children they are not measured yet and can be larger. Less sure than &quot;measure again&quot; asks for counts as within.</source>
        <translation>Berechnet aus dem veröffentlichten Anteil von Kindern jenseits von 6 cm (höchstens 15 %; Hayes und andere 1998) und den Fehlern dieses Programms an gezeichneten Gesichtern. An echten Kindern sind sie noch nicht gemessen und können größer sein. Was weniger sicher ist, als „Noch einmal messen“ verlangt, gilt als innerhalb.</translation>
    </message>
</context>
<context>
    <name>nearpoint::StationCardPage</name>
    <message>
        <source>Once more, with the card</source>
        <translation>Noch einmal, mit der Karte</translation>
    </message>
    <message>
        <source>The card tells how large this face is. Then the child is measured once more: no picture was kept, so what was measured before cannot be made more exact afterwards.</source>
        <translation>Die Karte sagt, wie groß dieses Gesicht ist. Dann wird das Kind noch einmal gemessen: Kein Bild wurde aufgehoben, darum lässt sich die Messung davor nicht nachträglich genauer machen.</translation>
    </message>
    <message>
        <source>1. The camera, once for this station</source>
        <translation>1. Die Kamera, einmal für diesen Platz</translation>
    </message>
    <message>
        <source>✓ Measured. It stays for all children.</source>
        <translation>✓ Gemessen. Das bleibt für alle Kinder.</translation>
    </message>
    <message>
        <source>→ Not measured yet: one or two minutes.</source>
        <translation>→ Noch nicht gemessen: ein bis zwei Minuten.</translation>
    </message>
    <message>
        <source>✓ Measured. It is forgotten with the next child.</source>
        <translation>✓ Gemessen. Mit dem nächsten Kind wird es vergessen.</translation>
    </message>
    <message>
        <source>→ The card on the forehead: about a minute.</source>
        <translation>→ Die Karte auf der Stirn: etwa eine Minute.</translation>
    </message>
    <message>
        <source>→ The camera comes first.</source>
        <translation>→ Zuerst kommt die Kamera.</translation>
    </message>
    <message>
        <source>Measure once more</source>
        <translation>Noch einmal messen</translation>
    </message>
    <message>
        <source>Back</source>
        <translation>Zurück</translation>
    </message>
    <message>
        <source>2. The size of the print, once for this station</source>
        <translation>2. Die Größe des Drucks, einmal für diese Station</translation>
    </message>
    <message>
        <source>→ Not measured yet: half a minute, with a ruler or a bank card.</source>
        <translation>→ Noch nicht gemessen: eine halbe Minute, mit Lineal oder Bankkarte.</translation>
    </message>
    <message>
        <source>3. This child&apos;s face</source>
        <translation>3. Das Gesicht dieses Kindes</translation>
    </message>
</context>
<context>
    <name>nearpoint::StationChildPage</name>
    <message>
        <source>Measurement</source>
        <translation>Messung</translation>
    </message>
</context>
<context>
    <name>nearpoint::StationDonePage</name>
    <message>
        <source>Thank you!</source>
        <translation>Danke!</translation>
    </message>
    <message>
        <source>That was it. Look far away for a moment, then you can go back.</source>
        <translation>Das war es schon. Schau einen Moment in die Ferne, dann kannst du zurückgehen.</translation>
    </message>
    <message>
        <source>This measurement could not be written down. The child stays on the list.</source>
        <translation>Diese Messung konnte nicht festgehalten werden. Das Kind bleibt auf der Liste.</translation>
    </message>
    <message>
        <source>Do the eyes hurt, or does the child still see two? Then call the person in charge and choose &quot;Needs looking after&quot;.</source>
        <translation>Tun die Augen weh oder sieht das Kind noch doppelt? Dann die Leitung rufen und „Braucht Hilfe“ wählen.</translation>
    </message>
    <message>
        <source>Next child</source>
        <translation>Nächstes Kind</translation>
    </message>
    <message>
        <source>Needs looking after</source>
        <translation>Braucht Hilfe</translation>
    </message>
    <message>
        <source>One more time, if there is time</source>
        <translation>Noch einmal, wenn Zeit ist</translation>
    </message>
    <message>
        <source>Once more, with the card</source>
        <translation>Noch einmal, mit der Karte</translation>
    </message>
</context>
<context>
    <name>nearpoint::StationPage</name>
    <message>
        <source>Who is next?</source>
        <translation>Wer ist dran?</translation>
    </message>
    <message>
        <source>There is no event on this computer yet.</source>
        <translation>Auf diesem Rechner gibt es noch keine Reihenmessung.</translation>
    </message>
    <message>
        <source>Back</source>
        <translation>Zurück</translation>
    </message>
    <message>
        <source>a few letters of the name, the class, or the number</source>
        <translation>ein paar Buchstaben des Namens, die Klasse oder die Nummer</translation>
    </message>
    <message>
        <source>Name, class or number</source>
        <translation>Name, Klasse oder Nummer</translation>
    </message>
    <message>
        <source>Children who match</source>
        <translation>Kinder, die passen</translation>
    </message>
    <message>
        <source>Measure</source>
        <translation>Messen</translation>
    </message>
    <message>
        <source>Consent before measuring</source>
        <translation>Einwilligung vor der Messung</translation>
    </message>
    <message>
        <source>The signed form is here</source>
        <translation>Das unterschriebene Formular liegt vor</translation>
    </message>
    <message>
        <source>A parent is here and agrees</source>
        <translation>Ein Elternteil ist da und stimmt zu</translation>
    </message>
    <message>
        <source>Refused: this child is not measured</source>
        <translation>Verweigert: Dieses Kind wird nicht gemessen</translation>
    </message>
    <message>
        <source>Undo last (Ctrl+Z)</source>
        <translation>Letztes zurück (Strg+Z)</translation>
    </message>
    <message>
        <source>Swap two (Ctrl+W)</source>
        <translation>Zwei tauschen (Strg+W)</translation>
    </message>
    <message>
        <source>Wristband (F2)</source>
        <translation>Armband (F2)</translation>
    </message>
    <message>
        <source>Hand over (Ctrl+H)</source>
        <translation>Übergeben (Strg+H)</translation>
    </message>
    <message>
        <source>Absent</source>
        <translation>Nicht da</translation>
    </message>
    <message>
        <source>Does not want to</source>
        <translation>Will nicht</translation>
    </message>
    <message>
        <source>This wristband is of another event.</source>
        <translation>Dieses Armband gehört zu einer anderen Reihenmessung.</translation>
    </message>
    <message>
        <source>New: a child of whom the number %1 is all that is known</source>
        <translation>Neu: ein Kind, von dem nur die Nummer %1 bekannt ist</translation>
    </message>
    <message>
        <source>Last here: %1</source>
        <translation>Zuletzt hier: %1</translation>
    </message>
    <message>
        <source>Nobody has been measured here yet.</source>
        <translation>Hier wurde noch niemand gemessen.</translation>
    </message>
    <message>
        <source>Nobody on the list matches.</source>
        <translation>Niemand auf der Liste passt.</translation>
    </message>
    <message>
        <source>The two have changed places.</source>
        <translation>Die beiden sind getauscht.</translation>
    </message>
    <message>
        <source>Return once more measures all the same.</source>
        <translation>Noch einmal Eingabe misst trotzdem.</translation>
    </message>
    <message>
        <source>Taken back: %1 waits again.</source>
        <translation>Zurückgenommen: %1 wartet wieder.</translation>
    </message>
    <message>
        <source>Swap %1 with whom? Find the other child and press Return.</source>
        <translation>%1 mit wem tauschen? Das andere Kind suchen und Eingabe drücken.</translation>
    </message>
    <message>
        <source>Hand over</source>
        <translation>Übergeben</translation>
    </message>
    <message>
        <source>Who goes on?</source>
        <translation>Wer macht weiter?</translation>
    </message>
    <message>
        <source>From now on: %1</source>
        <translation>Ab jetzt: %1</translation>
    </message>
    <message>
        <source>The camera is starting ...</source>
        <translation>Die Kamera startet ...</translation>
    </message>
    <message>
        <source>Practice: these children are simulated, and each is difficult in its way.</source>
        <translation>Übung: Diese Kinder sind simuliert, und jedes ist auf seine Art schwierig.</translation>
    </message>
    <message>
        <source>Begun here and not finished</source>
        <translation>Hier begonnen und nicht beendet</translation>
    </message>
    <message>
        <source>Go on</source>
        <translation>Weitermachen</translation>
    </message>
    <message>
        <source>The rounds that were finished count.</source>
        <translation>Die beendeten Durchgänge zählen.</translation>
    </message>
    <message>
        <source>From the beginning</source>
        <translation>Von vorn</translation>
    </message>
    <message>
        <source>If it was another child, or much has happened in between.</source>
        <translation>Wenn es ein anderes Kind war oder inzwischen viel geschehen ist.</translation>
    </message>
    <message>
        <source>%1 was being measured here when it stopped. Return goes on.</source>
        <translation>%1 wurde hier gemessen, als es abbrach. Eingabe macht weiter.</translation>
    </message>
    <message numerus="yes">
        <source>%n round(s) are safe on this computer.</source>
        <translation>
            <numerusform>%n Durchgang ist auf diesem Rechner gesichert.</numerusform>
            <numerusform>%n Durchgänge sind auf diesem Rechner gesichert.</numerusform>
        </translation>
    </message>
    <message>
        <source>Ask before measuring</source>
        <translation>Vor der Messung fragen</translation>
    </message>
    <message>
        <source>%1 is not measured. Call the person in charge.</source>
        <translation>%1 wird nicht gemessen. Rufen Sie die Leitung.</translation>
    </message>
    <message>
        <source>Cannot do it</source>
        <translation>Kann es nicht</translation>
    </message>
    <message>
        <source>No (N)</source>
        <translation>Nein (N)</translation>
    </message>
    <message>
        <source>Yes (Y)</source>
        <translation>Ja (J)</translation>
    </message>
    <message>
        <source>Yes means: not measured, call the person in charge.</source>
        <translation>Ja heißt: keine Messung, die Leitung rufen.</translation>
    </message>
    <message>
        <source>Ask: Pain in or behind the eyes? A new headache? A blow to the head? Seeing two? A squint that is treated?</source>
        <translation>Fragen Sie: Augenschmerzen? Neue Kopfschmerzen? Ein Schlag auf den Kopf? Doppeltsehen? Ein Schielen in Behandlung?</translation>
    </message>
</context>
</TS>
