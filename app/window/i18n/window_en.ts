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
    <name>nearpoint::HomePage</name>
    <message numerus="yes">
        <source>%n trial(s) are safe and need not be repeated.</source>
        <translation>
            <numerusform>%n trial is safe and need not be repeated.</numerusform>
            <numerusform>%n trials are safe and need not be repeated.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::MeasurePage</name>
    <message numerus="yes">
        <source>%n trial(s) are safe.</source>
        <translation>
            <numerusform>%n trial is safe.</numerusform>
            <numerusform>%n trials are safe.</numerusform>
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
