/// QR codes as squares.
#pragma once

#include <string>
#include <vector>

namespace propwright::server {

/// Row by row, without a margin; none where the text is too long for a code.
struct QrSquares {
  int across = 0;
  std::vector<bool> dark = {};
  bool at(int x, int y) const {
    const auto row = static_cast<std::size_t>(y), column = static_cast<std::size_t>(x);
    return dark[row * static_cast<std::size_t>(across) + column];
  }
};

/// `sturdy`: readable with a quarter of it lost, for what is printed.
QrSquares qr_squares(const std::string& text, bool sturdy = false);

}  // namespace propwright::server
