<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" language="de_DE" sourcelanguage="en_US">
<context>
    <name>ExerciseWords</name>
    <message>
        <source>Sit comfortably</source>
        <translation>Setz dich bequem hin</translation>
    </message>
    <message>
        <source>The camera looks for your eyes and for how far you sit.</source>
        <translation>Die Kamera sucht deine Augen und wie weit du weg sitzt.</translation>
    </message>
    <message>
        <source>Look at the cross</source>
        <translation>Auf das Kreuz schauen</translation>
    </message>
    <message>
        <source>Keep looking until the tone.</source>
        <translation>Schau weiter hin bis zum Ton.</translation>
    </message>
    <message>
        <source>Look at the cross.</source>
        <translation>Schau auf das Kreuz.</translation>
    </message>
    <message>
        <source>Look at your fingertip</source>
        <translation>Auf die Fingerspitze schauen</translation>
    </message>
    <message>
        <source>The hold runs while both eyes meet there.</source>
        <translation>Die Zeit läuft, solange beide Augen sich dort treffen.</translation>
    </message>
    <message>
        <source>Bring your finger in</source>
        <translation>Finger näher führen</translation>
    </message>
    <message>
        <source>Look at the fingertip. Space bar: the pair behind it has become one, with both marks.</source>
        <translation>Auf die Fingerspitze schauen. Leertaste: Das Paar dahinter ist eines geworden, mit beiden Zeichen.</translation>
    </message>
    <message>
        <source>Finger in. Press when the two have become one.</source>
        <translation>Finger näher. Drücken, wenn die zwei eins geworden sind.</translation>
    </message>
    <message>
        <source>Hold it as one</source>
        <translation>Als eines halten</translation>
    </message>
    <message>
        <source>Space bar: it falls apart. M: a mark is missing.</source>
        <translation>Leertaste: Es fällt auseinander. M: Ein Zeichen fehlt.</translation>
    </message>
    <message>
        <source>Hold.</source>
        <translation>Halten.</translation>
    </message>
    <message>
        <source>Done</source>
        <translation>Fertig</translation>
    </message>
    <message>
        <source>Done. Look far away for a moment.</source>
        <translation>Fertig. Schau kurz in die Ferne.</translation>
    </message>
    <message>
        <source>Not counted: the camera could see only one eye.</source>
        <translation>Nicht gezählt: Die Kamera konnte nur ein Auge sehen.</translation>
    </message>
    <message>
        <source>Not counted: it was not held as one for long enough.</source>
        <translation>Nicht gezählt: Es wurde nicht lange genug als eines gehalten.</translation>
    </message>
    <message>
        <source>Not counted: the camera lost sight of your eyes.</source>
        <translation>Nicht gezählt: Die Kamera hat deine Augen verloren.</translation>
    </message>
    <message>
        <source>Stopped.</source>
        <translation>Abgebrochen.</translation>
    </message>
    <message>
        <source>The camera cannot see your eyes.</source>
        <translation>Die Kamera sieht deine Augen nicht.</translation>
    </message>
    <message>
        <source>Press the space bar when the two figures have become one.</source>
        <translation>Drück die Leertaste, wenn die beiden Figuren eine geworden sind.</translation>
    </message>
    <message>
        <source>Your plan has not begun yet.</source>
        <translation>Dein Plan hat noch nicht begonnen.</translation>
    </message>
    <message>
        <source>Your plan has come to its end. Ask the person who set it how to go on.</source>
        <translation>Dein Plan ist zu Ende. Frag die Person, von der er stammt, wie es weitergeht.</translation>
    </message>
    <message>
        <source>Today is done.</source>
        <translation>Heute ist erledigt.</translation>
    </message>
    <message>
        <source>This week has all its days. Today is a day of rest.</source>
        <translation>Diese Woche hat alle ihre Tage. Heute ist ein Ruhetag.</translation>
    </message>
    <message>
        <source>Today would be a good day for it.</source>
        <translation>Heute wäre ein guter Tag dafür.</translation>
    </message>
    <message numerus="yes">
        <source>%n time(s)</source>
        <translation>
            <numerusform>%n-mal</numerusform>
            <numerusform>%n-mal</numerusform>
        </translation>
    </message>
    <message>
        <source>each held for %1 s</source>
        <translation>je %1 s gehalten</translation>
    </message>
    <message numerus="yes">
        <source>on %n day(s) a week</source>
        <translation>
            <numerusform>an %n Tag in der Woche</numerusform>
            <numerusform>an %n Tagen in der Woche</numerusform>
        </translation>
    </message>
    <message>
        <source>in the morning</source>
        <translation>morgens</translation>
    </message>
    <message>
        <source>until %1</source>
        <translation>bis %1</translation>
    </message>
    <message>
        <source>Set by %1.</source>
        <translation>Festgelegt von %1.</translation>
    </message>
    <message>
        <source>Not counted: the camera did not see your eyes turn in. Look at your fingertip.</source>
        <translation>Zählt nicht: Die Kamera hat nicht gesehen, dass sich deine Augen nach innen drehen. Schau auf die Fingerspitze.</translation>
    </message>
    <message>
        <source>Not counted: the camera saw your eyes turn in less than this pair needs.</source>
        <translation>Zählt nicht: Die Kamera hat gesehen, dass sich deine Augen weniger nach innen drehen, als dieses Paar braucht.</translation>
    </message>
    <message>
        <source>Not counted: the camera saw your eyes turn in more than this pair needs.</source>
        <translation>Zählt nicht: Die Kamera hat gesehen, dass sich deine Augen mehr nach innen drehen, als dieses Paar braucht.</translation>
    </message>
    <message>
        <source>Not counted: your eyes did not stay on it together to the end.</source>
        <translation>Zählt nicht: Deine Augen blieben nicht gemeinsam bis zum Ende dabei.</translation>
    </message>
    <message>
        <source>Not counted: you saw only one of the marks. Blink, look far away, and try again.</source>
        <translation>Zählt nicht: Du hast nur eines der Zeichen gesehen. Blinzle, schau in die Ferne und versuch es noch einmal.</translation>
    </message>
    <message>
        <source>Not counted: no key was pressed.</source>
        <translation>Zählt nicht: Es wurde keine Taste gedrückt.</translation>
    </message>
    <message>
        <source>The camera sees only one of your eyes. Face it straight.</source>
        <translation>Die Kamera sieht nur eines deiner Augen. Dreh das Gesicht gerade zu ihr.</translation>
    </message>
    <message>
        <source>Do you still see both marks? If not, look far away and try again.</source>
        <translation>Siehst du noch beide Zeichen? Wenn nicht, schau in die Ferne und versuch es noch einmal.</translation>
    </message>
    <message>
        <source>Look at your fingertip, not at the screen.</source>
        <translation>Schau auf die Fingerspitze, nicht auf den Bildschirm.</translation>
    </message>
    <message>
        <source>A little too near. Move your finger a little away.</source>
        <translation>Etwas zu nah. Nimm den Finger ein wenig weg.</translation>
    </message>
    <message>
        <source>Today would be a good day for it. Your plan says: in the morning.</source>
        <translation>Heute wäre ein guter Tag dafür. In deinem Plan steht: morgens.</translation>
    </message>
    <message>
        <source>Do not exercise now: the start page says why.</source>
        <translation>Übe jetzt nicht: Auf der Startseite steht, warum.</translation>
    </message>
    <message>
        <source>Five days a week is what a published trial asked of children, 15 minutes a day for 12 weeks (CITT 2008); ten times with a count of three stands in a clinic&apos;s handout. The distances are this program&apos;s own choice. None of it was made for you: what your professional tells you comes first.</source>
        <translation>Fünf Tage in der Woche hat eine veröffentlichte Studie von Kindern verlangt, 15 Minuten am Tag über 12 Wochen (CITT 2008); zehnmal und bis drei zählen steht im Merkblatt einer Klinik. Die Abstände hat dieses Programm selbst gewählt. Nichts davon ist für dich gemacht: Was deine Augenpraxis sagt, geht vor.</translation>
    </message>
</context>
<context>
    <name>GradedSheet</name>
    <message>
        <source>This line must be 100 mm long. If not, print again at 100 %.</source>
        <translation>Diese Linie muss 100 mm lang sein. Wenn nicht, noch einmal mit 100 % drucken.</translation>
    </message>
    <message>
        <source>%1   fingertip %2 from the eyes (%3 to %4), %5 prism dioptres more than the sheet</source>
        <translation>%1   Fingerspitze %2 vor den Augen (%3 bis %4), %5 Prismendioptrien mehr als das Blatt</translation>
    </message>
    <message>
        <source>Exercise sheet</source>
        <translation>Übungsblatt</translation>
    </message>
    <message>
        <source>Made for a pupil distance of %1 mm (one standard deviation %2 mm) and a sheet held %3 from the eyes. Distances are from the front of the eyes.</source>
        <translation>Gemacht für einen Pupillenabstand von %1 mm (eine Standardabweichung %2 mm) und ein Blatt %3 vor den Augen. Abstände gelten ab der Vorderseite der Augen.</translation>
    </message>
    <message>
        <source>1. Hold the sheet upright %1 from your eyes and look at your fingertip in front of it.</source>
        <translation>1. Halte das Blatt aufrecht %1 vor die Augen und schau auf deine Fingerspitze davor.</translation>
    </message>
    <message>
        <source>2. Bring the fingertip slowly nearer, just below the pair. Behind it everything is double; at the distance under the pair, a third figure appears in the middle.</source>
        <translation>2. Führ die Fingerspitze langsam näher, knapp unter dem Paar. Dahinter ist alles doppelt; bei dem Abstand, der unter dem Paar steht, erscheint in der Mitte eine dritte Figur.</translation>
    </message>
    <message>
        <source>3. It must show both marks: the disc above and the bar below. Hold it for %1 s, look at something far away, and repeat: %2 times in all.</source>
        <translation>3. Sie muss beide Zeichen zeigen: die Scheibe oben und den Balken unten. Halte sie %1 s, schau in die Ferne und wiederhole es: insgesamt %2-mal.</translation>
    </message>
    <message>
        <source>Set by %1.</source>
        <translation>Festgelegt von %1.</translation>
    </message>
    <message>
        <source>From a clinic&apos;s handout, not made for you.</source>
        <translation>Aus dem Merkblatt einer Klinik, nicht für dich gemacht.</translation>
    </message>
</context>
<context>
    <name>SaveSheet</name>
    <message>
        <source>Print the exercise</source>
        <translation>Übung drucken</translation>
    </message>
    <message>
        <source>exercise.pdf</source>
        <translation>uebung.pdf</translation>
    </message>
    <message>
        <source>PDF (*.pdf)</source>
        <translation>PDF (*.pdf)</translation>
    </message>
</context>
<context>
    <name>nearpoint::DiaryPage</name>
    <message>
        <source>Stop and ask your clinic when:</source>
        <translation>Aufhören und in der Praxis fragen, wenn:</translation>
    </message>
    <message>
        <source>Measure again on: %1.</source>
        <translation>Wieder messen am: %1.</translation>
    </message>
    <message>
        <source>My diary</source>
        <translation>Mein Tagebuch</translation>
    </message>
    <message>
        <source>Do my exercise</source>
        <translation>Übung machen</translation>
    </message>
    <message>
        <source>Back to the start</source>
        <translation>Zurück zum Anfang</translation>
    </message>
    <message>
        <source>Plan from a file</source>
        <translation>Plan aus einer Datei</translation>
    </message>
    <message>
        <source>My plan</source>
        <translation>Mein Plan</translation>
    </message>
    <message>
        <source>Days</source>
        <translation>Tage</translation>
    </message>
    <message>
        <source>A tick: all repetitions. A dash: some of them. An empty square is simply a day without; any day is a good day to go on.</source>
        <translation>Ein Haken: alle Wiederholungen. Ein Strich: einige davon. Ein leeres Feld ist einfach ein Tag ohne Übung; jeder Tag ist ein guter Tag, um weiterzumachen.</translation>
    </message>
    <message>
        <source>How near I get</source>
        <translation>Wie nah ich komme</translation>
    </message>
    <message>
        <source>After the first repetition that counts, the nearest pair you held stands here.</source>
        <translation>Nach der ersten gezählten Wiederholung steht hier das nächste Paar, das du gehalten hast.</translation>
    </message>
    <message>
        <source>The nearest pair held, from the front of the eyes; the line is its 95 % band.</source>
        <translation>Das nächste gehaltene Paar, von der Vorderseite der Augen aus gemessen; die Linie ist sein 95-%-Bereich.</translation>
    </message>
    <message>
        <source>(%1 a week, 95 % band %2 to %3)</source>
        <translation>(%1 pro Woche, 95-%-Bereich %2 bis %3)</translation>
    </message>
    <message>
        <source>No change over time can be told from it yet</source>
        <translation>Eine Veränderung lässt sich daraus noch nicht ablesen</translation>
    </message>
    <message>
        <source>It comes nearer over time</source>
        <translation>Es rückt mit der Zeit näher</translation>
    </message>
    <message>
        <source>It moves away over time</source>
        <translation>Es rückt mit der Zeit weiter weg</translation>
    </message>
    <message>
        <source>This follows the exercise. Whether the near point has changed, only the measurement tells.</source>
        <translation>Dies zeigt den Verlauf der Übung. Ob sich der Nahpunkt verändert hat, zeigt nur die Messung.</translation>
    </message>
</context>
<context>
    <name>nearpoint::ExerciseAfter</name>
    <message>
        <source>%1 of %2 repetitions counted</source>
        <translation>%1 von %2 Wiederholungen gezählt</translation>
    </message>
    <message>
        <source>Held as one for %1 s in all.</source>
        <translation>Insgesamt %1 s als eines gehalten.</translation>
    </message>
    <message>
        <source>The two became one after %1 s (the middle of all).</source>
        <translation>Nach %1 s wurden die beiden eines (mittlerer Wert).</translation>
    </message>
    <message>
        <source>Nearest pair held: %1 from the eyes (95 % band %2 to %3).</source>
        <translation>Nächstes gehaltenes Paar: %1 vor den Augen (95-%-Bereich %2 bis %3).</translation>
    </message>
    <message numerus="yes">
        <source>(%n time(s))</source>
        <translation>
            <numerusform>(%n-mal)</numerusform>
            <numerusform>(%n-mal)</numerusform>
        </translation>
    </message>
    <message>
        <source>Your eyes reached less from one time to the next (%1 a time, 95 % band %2 to %3). A rest is better than more repetitions.</source>
        <translation>Deine Augen kamen von Mal zu Mal weniger nah (%1 pro Mal, 95-%-Bereich %2 bis %3). Eine Pause ist besser als weitere Wiederholungen.</translation>
    </message>
    <message>
        <source>The last three times did not succeed after some that did: your eyes may be tired. A rest is better than more repetitions.</source>
        <translation>Die letzten drei Male gelangen nicht, frühere schon: Deine Augen sind vielleicht müde. Eine Pause ist besser als weitere Wiederholungen.</translation>
    </message>
    <message>
        <source>This was practice with a simulated person.</source>
        <translation>Das war ein Probelauf mit einer simulierten Person.</translation>
    </message>
</context>
<context>
    <name>nearpoint::ExerciseBefore</name>
    <message>
        <source>Exercise</source>
        <translation>Übung</translation>
    </message>
    <message>
        <source>Easier today</source>
        <translation>Heute leichter</translation>
    </message>
    <message>
        <source>Harder today</source>
        <translation>Heute schwerer</translation>
    </message>
    <message>
        <source>How it goes</source>
        <translation>So geht es</translation>
    </message>
    <message>
        <source>Sit about 50 cm from the screen, an arm&apos;s length. Hold one fingertip up in front of you, just below the two figures.</source>
        <translation>Setz dich etwa 50 cm vor den Bildschirm, eine Armlänge. Halte eine Fingerspitze vor dich hoch, knapp unter die beiden Figuren.</translation>
    </message>
    <message>
        <source>Look at the cross first. After the tone look at your fingertip and bring it slowly nearer. The two figures behind it become double, and a third appears in the middle.</source>
        <translation>Schau zuerst auf das Kreuz. Nach dem Ton schau auf deine Fingerspitze und führ sie langsam näher. Die beiden Figuren dahinter werden doppelt, und in der Mitte erscheint eine dritte.</translation>
    </message>
    <message>
        <source>Stop with the Escape key when</source>
        <translation>Hör mit der Escape-Taste auf, wenn</translation>
    </message>
    <message>
        <source>Size of the screen</source>
        <translation>Größe des Bildschirms</translation>
    </message>
    <message>
        <source>Print the exercise</source>
        <translation>Übung drucken</translation>
    </message>
    <message>
        <source>Today: level %1 of %2, the fingertip at about %3 from your eyes.</source>
        <translation>Heute: Stufe %1 von %2, die Fingerspitze etwa %3 vor deinen Augen.</translation>
    </message>
    <message>
        <source>The size of this screen was checked with a card.</source>
        <translation>Die Größe dieses Bildschirms wurde mit einer Karte geprüft.</translation>
    </message>
    <message>
        <source>The size of this screen has not been checked with a card yet; that takes a minute.</source>
        <translation>Die Größe dieses Bildschirms wurde noch nicht mit einer Karte geprüft; das dauert eine Minute.</translation>
    </message>
    <message>
        <source>Your clinic asks you to stop when:</source>
        <translation>Deine Praxis bittet dich aufzuhören, wenn:</translation>
    </message>
    <message>
        <source>The distance of your pupils was not measured with the card, so that of an average face is used: the place of the fingertip may be 5 % off.</source>
        <translation>Der Abstand deiner Pupillen wurde nicht mit der Karte gemessen, darum gilt der eines durchschnittlichen Gesichts: Die Stelle der Fingerspitze kann um 5 % danebenliegen.</translation>
    </message>
    <message>
        <source>It is right when the one in the middle shows both marks, the disc above and the bar below. Then press the space bar and hold it. The camera looks whether both eyes turn in; it can be wrong.</source>
        <translation>Es ist richtig, wenn die mittlere beide Zeichen zeigt, oben die Scheibe und unten den Balken. Dann drück die Leertaste und halte es. Die Kamera schaut, ob sich beide Augen nach innen drehen; sie kann sich irren.</translation>
    </message>
</context>
<context>
    <name>nearpoint::ExercisePage</name>
    <message>
        <source>Exercise</source>
        <translation>Übung</translation>
    </message>
    <message>
        <source>Begin</source>
        <translation>Beginnen</translation>
    </message>
    <message>
        <source>Back</source>
        <translation>Zurück</translation>
    </message>
    <message>
        <source>Stop (Esc)</source>
        <translation>Aufhören (Esc)</translation>
    </message>
    <message>
        <source>A mark is missing (M)</source>
        <translation>Ein Zeichen fehlt (M)</translation>
    </message>
    <message>
        <source>End for today</source>
        <translation>Für heute beenden</translation>
    </message>
    <message>
        <source>Back to the start</source>
        <translation>Zurück zum Anfang</translation>
    </message>
    <message>
        <source>How large is this screen?</source>
        <translation>Wie groß ist dieser Bildschirm?</translation>
    </message>
    <message>
        <source>Hold a bank card against the screen and make the outline as large as the card with the arrow keys. Then press Return.</source>
        <translation>Halte eine Bankkarte an den Bildschirm und mach den Umriss mit den Pfeiltasten so groß wie die Karte. Drück dann die Eingabetaste.</translation>
    </message>
    <message>
        <source>It fits</source>
        <translation>Passt</translation>
    </message>
    <message>
        <source>Go on</source>
        <translation>Weiter</translation>
    </message>
    <message>
        <source>This screen does not say how large it is, so a card is needed.</source>
        <translation>Dieser Bildschirm sagt nicht, wie groß er ist; deshalb wird eine Karte gebraucht.</translation>
    </message>
    <message>
        <source>Counted: held for %1 s.</source>
        <translation>Gezählt: %1 s gehalten.</translation>
    </message>
    <message>
        <source>None of the pairs of your plan can be shown here from where you sit. Make the window larger, or sit about 50 cm from the screen.</source>
        <translation>Keines der Paare deines Plans lässt sich hier von deinem Platz aus zeigen. Mach das Fenster größer oder setz dich etwa 50 cm vor den Bildschirm.</translation>
    </message>
    <message>
        <source>The camera stopped</source>
        <translation>Die Kamera ist ausgefallen</translation>
    </message>
    <message>
        <source>What is counted is safe. Plug the camera in and choose &quot;Go on&quot;.</source>
        <translation>Was gezählt ist, ist sicher. Steck die Kamera ein und wähle „Weiter“.</translation>
    </message>
    <message>
        <source>Your eyes seem to tire. A rest is better than more of it: Escape ends it for today.</source>
        <translation>Deine Augen scheinen müde zu werden. Eine Pause ist besser als mehr davon: Escape beendet es für heute.</translation>
    </message>
    <message>
        <source>Skip: it may be %1 % too large or too small</source>
        <translation>Überspringen: kann %1 % zu groß oder zu klein sein</translation>
    </message>
    <message>
        <source>Do not exercise on.</source>
        <translation>Übe nicht weiter.</translation>
    </message>
    <message>
        <source>Tell your eye-care professional in any case. Before the next exercise you are asked whom you have asked.</source>
        <translation>Sag es auf jeden Fall deiner Augenpraxis. Vor der nächsten Übung wirst du gefragt, wen du gefragt hast.</translation>
    </message>
</context>
<context>
    <name>nearpoint::PairStage</name>
    <message>
        <source>Empty</source>
        <translation>Leer</translation>
    </message>
    <message>
        <source>A cross to look at</source>
        <translation>Ein Kreuz zum Hinschauen</translation>
    </message>
    <message>
        <source>Two figures: the left one has a disc above, the right one a bar below</source>
        <translation>Zwei Figuren: Die linke hat oben eine Scheibe, die rechte unten einen Balken</translation>
    </message>
</context>
<context>
    <name>nearpoint::ReachView</name>
    <message>
        <source>Nearest pair held, day by day</source>
        <translation>Nächstes gehaltenes Paar, Tag für Tag</translation>
    </message>
</context>
<context>
    <name>nearpoint::RepetitionRow</name>
    <message>
        <source>%1 of %2 repetitions</source>
        <translation>%1 von %2 Wiederholungen</translation>
    </message>
    <message>
        <source>%1 of %2</source>
        <translation>%1 von %2</translation>
    </message>
</context>
<context>
    <name>nearpoint::ScreenCard</name>
    <message>
        <source>Outline of a bank card</source>
        <translation>Umriss einer Bankkarte</translation>
    </message>
    <message>
        <source>The arrow keys make it larger or smaller.</source>
        <translation>Die Pfeiltasten machen ihn größer oder kleiner.</translation>
    </message>
</context>
<context>
    <name>nearpoint::WeekView</name>
    <message>
        <source>Days of the last weeks</source>
        <translation>Tage der letzten Wochen</translation>
    </message>
    <message numerus="yes">
        <source>%1: %n repetition(s)</source>
        <translation>
            <numerusform>%1: %n Wiederholung</numerusform>
            <numerusform>%1: %n Wiederholungen</numerusform>
        </translation>
    </message>
    <message>
        <source>Nothing yet.</source>
        <translation>Noch nichts.</translation>
    </message>
    <message numerus="yes">
        <source>%1 of %n day(s)</source>
        <translation>
            <numerusform>%1 von %n Tag</numerusform>
            <numerusform>%1 von %n Tagen</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n day(s)</source>
        <translation>
            <numerusform>%n Tag</numerusform>
            <numerusform>%n Tage</numerusform>
        </translation>
    </message>
</context>
</TS>
