<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" language="en_US" sourcelanguage="en_US">
<context>
    <name>SessionResult</name>
    <message numerus="yes">
        <source>%n trial(s) count.</source>
        <translation>
            <numerusform>%n trial counts.</numerusform>
            <numerusform>%n trials count.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::DeletePersonPage</name>
    <message numerus="yes">
        <source>%n measurement(s)</source>
        <translation>
            <numerusform>%n measurement</numerusform>
            <numerusform>%n measurements</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n trial(s) in them</source>
        <translation>
            <numerusform>%n trial in them</numerusform>
            <numerusform>%n trials in them</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n exercise session(s)</source>
        <translation>
            <numerusform>%n exercise session</numerusform>
            <numerusform>%n exercise sessions</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n plan(s)</source>
        <translation>
            <numerusform>%n plan</numerusform>
            <numerusform>%n plans</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n calibration(s)</source>
        <translation>
            <numerusform>%n calibration</numerusform>
            <numerusform>%n calibrations</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n picture(s) of the eyes</source>
        <translation>
            <numerusform>%n picture of the eyes</numerusform>
            <numerusform>%n pictures of the eyes</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::HomePage</name>
    <message numerus="yes">
        <source>%n round(s) that count are safe and need not be repeated.</source>
        <translation>
            <numerusform>%n round that counts is safe and need not be repeated.</numerusform>
            <numerusform>%n rounds that count are safe and need not be repeated.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::MainWindow</name>
    <message numerus="yes">
        <source>%n thing(s) could not be written down. They are kept in memory and tried again.</source>
        <translation>
            <numerusform>Something could not be written down. It is kept in memory and tried again.</numerusform>
            <numerusform>%n things could not be written down. They are kept in memory and tried again.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::MeasurePage</name>
    <message numerus="yes">
        <source>%n round(s) that count are safe.</source>
        <translation>
            <numerusform>%n round that counts is safe.</numerusform>
            <numerusform>%n rounds that count are safe.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::MeasureView</name>
    <message numerus="yes">
        <source>%n second(s), or any key to go on at once.</source>
        <translation>
            <numerusform>%n second, or any key to go on at once.</numerusform>
            <numerusform>%n seconds, or any key to go on at once.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n second(s), or any key.</source>
        <translation>
            <numerusform>%n second, or any key.</numerusform>
            <numerusform>%n seconds, or any key.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::TrialDots</name>
    <message numerus="yes">
        <source>%n trial(s) count so far</source>
        <translation>
            <numerusform>%n trial counts so far</numerusform>
            <numerusform>%n trials count so far</numerusform>
        </translation>
    </message>
</context>
</TS>
