// A card in a file: its text, or a picture of its QR code.
#pragma once

#include <string>

#include "app/exchange/keys.h"
#include "vision/core/result.h"

namespace nearpoint {

// Either of the two. kNotFound: a picture in which no QR code can be read; kBadValue: no card.
// Errors of reading besides.
[[nodiscard]] Result<Card> CardInFile(const std::string& file);

// The QR code as PNG, to be shown or printed.
[[nodiscard]] Result<void> WriteCardPicture(const std::string& file, const Card& card);

}  // namespace nearpoint
