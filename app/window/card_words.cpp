#include "app/window/card_words.h"

#include <QCoreApplication>
#include <QLocale>
#include <algorithm>
#include <cmath>

namespace nearpoint::words {
namespace {

struct CardWords {
  Q_DECLARE_TR_FUNCTIONS(CardWords)
};

QString TiltWords(CardTilt tilt) {
  switch (tilt) {
    case CardTilt::kSquare:
      return CardWords::tr("Hold the card square to the camera.");
    case CardTilt::kUpperNear:
      return CardWords::tr("Tilt the card: its upper edge toward the camera.");
    case CardTilt::kLowerNear:
      return CardWords::tr("Tilt the card: its lower edge toward the camera.");
    case CardTilt::kLeftNear:
      return CardWords::tr("Turn the card: its left edge toward the camera.");
    case CardTilt::kRightNear:
      return CardWords::tr("Turn the card: its right edge toward the camera.");
  }
  return {};
}

QString PatternWords(NoPattern why) {
  switch (why) {
    case NoPattern::kNothing:
      return CardWords::tr("The card is not seen. Its pattern must face the camera.");
    case NoPattern::kMirrored:
      return CardWords::tr("The camera delivers a mirrored picture; switch that off.");
    case NoPattern::kTooFew:
      return CardWords::tr("Too little of the pattern is seen: hold the card at its rim.");
    case NoPattern::kContradiction:
      return CardWords::tr("The pattern is not on one flat card.");
  }
  return {};
}

QString PlainWords(NoPlainCard why) {
  switch (why) {
    case NoPlainCard::kNothing:
      return CardWords::tr("The card is not seen. A plain dark ground behind it helps.");
    case NoPlainCard::kHidden:
      return CardWords::tr("An edge of the card is hidden: hold it by one corner.");
    case NoPlainCard::kTooSmall:
      return CardWords::tr("Bring the card nearer.");
    case NoPlainCard::kCutOff:
      return CardWords::tr("The card reaches out of the picture.");
  }
  return {};
}

QString NameOf(std::string_view length) {
  if (length == "iris_mm") return CardWords::tr("the width of the iris");
  if (length == "distance_pd_mm") return CardWords::tr("the distance of the pupils");
  if (length == "outer_corners_mm") return CardWords::tr("the distance of the outer eye corners");
  return CardWords::tr("the distance of the inner eye corners");
}

}  // namespace

QString NextView(const CameraGuidance& guide) {
  if (!guide.tilts.empty()) return TiltWords(guide.tilts.front());
  if (std::ranges::find(guide.missing, true) != guide.missing.end()) {
    return CardWords::tr("Move the card to the dashed place in the picture.");
  }
  return CardWords::tr("Go on: other tilts and other distances.");
}

QString ViewNow(const CardLook& look, ViewStep step) {
  switch (step) {
    case ViewStep::kNoCard:
      if (look.no_pattern) return PatternWords(*look.no_pattern);
      if (look.no_plain_card) return PlainWords(*look.no_plain_card);
      return {};
    case ViewStep::kMoving:
      return CardWords::tr("Hold still ...");
    case ViewStep::kSame:
      return CardWords::tr("Too like an earlier view: change the tilt or the place.");
    case ViewStep::kTooSmall:
      return CardWords::tr("Bring the card nearer.");
    case ViewStep::kTooSteep:
      return CardWords::tr("That is tilted too far.");
    case ViewStep::kTaken:
      return CardWords::tr("✓ Taken.");
  }
  return {};
}

QString Refused(CameraFault fault, CardKind kind) {
  switch (fault) {
    case CameraFault::kNotId1:
      return CardWords::tr(
          "This card has not the shape of a bank card. Take a bank, health or library card.");
    case CameraFault::kUnevenPrint:
      return CardWords::tr(
          "The pattern is stretched. Print the sheet at 100 %, not fitted to the page.");
    case CameraFault::kBent:
      return CardWords::tr("The card is bent. Glue it around a stiff card, or take a flat one.");
    case CameraFault::kEdgesOff:
      return CardWords::tr(
          "The edges lie off any flat card. Hold it still, in good light, and take a stiff one.");
    case CameraFault::kVague:
      return CardWords::tr(
          "The card was tilted too little. About a third of a right angle is good.");
    case CameraFault::kFewViews:
    case CameraFault::kNone:
      break;
  }
  return kind == CardKind::kPattern
             ? CardWords::tr("Too few views. Please go on until the bar is full.")
             : CardWords::tr("Too few views. The printed card is found more easily.");
}

QString FaceNow(const FaceCardSeen& seen) {
  if (seen.pattern) return PatternWords(*seen.pattern);
  if (!seen.why) return {};
  switch (*seen.why) {
    case NoFaceCard::kNoPattern:
      return PatternWords(NoPattern::kNothing);
    case NoFaceCard::kFewMarkers:
      return PatternWords(NoPattern::kTooFew);
    case NoFaceCard::kBent:
      return CardWords::tr("The card is bent.");
    case NoFaceCard::kMisfit:
      return CardWords::tr("The pattern does not fit this card's size.");
    case NoFaceCard::kNoEyes:
      return CardWords::tr("Your eyes are not seen. Keep hair and hand out of the way.");
    case NoFaceCard::kTooFar:
      return CardWords::tr("Come nearer.");
    case NoFaceCard::kTooNear:
      return CardWords::tr("Go back a little.");
  }
  return {};
}

QString PrintNow(const PrintSeen& seen) {
  if (seen.scale) return {};
  if (seen.no_pattern) return PatternWords(*seen.no_pattern);
  if (seen.no_card) {
    return CardWords::tr(
        "The bank card is not seen beside the pattern. It must fill the corners of its place.");
  }
  return CardWords::tr(
      "Lay the sheet flat, the bank card flat on it, and hold the camera squarely over both.");
}

QString PrintPercent(const PrintScale& print) {
  return QLocale().toString(50 * (print.width + print.height), 'f', 1) + QChar(0xa0) + '%';
}

QString ScaledPrint(const PrintScale& print) {
  const auto percent = [](double share) {
    return QLocale().toString(100 * share, 'f', 1) + QChar(0xa0) + '%';
  };
  const QString size =
      std::abs(print.width - print.height) < 0.01
          ? CardWords::tr("The sheet is printed at %1 of its size.").arg(PrintPercent(print))
          : CardWords::tr("The sheet is printed at %1 of its width and %2 of its height.")
                .arg(percent(print.width), percent(print.height));
  return size + ' ' +
         CardWords::tr(
             "Print it again at 100 % (“actual size”), not fitted to the page, and "
             "make the card from the new print.");
}

QString Doubt(const FaceDoubt& doubt) {
  if (doubt.name.empty()) {
    const QString percent =
        QLocale().toString(std::round(100 * std::abs(doubt.factor - 1))) + QChar(0xa0) + '%';
    return (doubt.factor > 1 ? CardWords::tr("All lengths together are %1 larger than usual. Lay "
                                             "the printed card on a bank card: is it as large?")
                             : CardWords::tr("All lengths together are %1 smaller than usual. Lay "
                                             "the printed card on a bank card: is it as large?"))
        .arg(percent);
  }
  return CardWords::tr("Unusual: %1 came out as %2 mm.")
      .arg(NameOf(doubt.name), QLocale().toString(doubt.mm, 'f', 1));
}

}  // namespace nearpoint::words
