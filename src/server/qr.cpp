#include "qr.h"

#include <qrencode.h>

#include <memory>

#include "propwright/server/server.h"

namespace propwright::server {

QrSquares qr_squares(const std::string& text, bool sturdy) {
  const std::unique_ptr<QRcode, decltype(&QRcode_free)> code(
      QRcode_encodeString(text.c_str(), 0, sturdy ? QR_ECLEVEL_Q : QR_ECLEVEL_L, QR_MODE_8, 1),
      QRcode_free);
  QrSquares squares;
  if (!code) return squares;
  squares.across = code->width;
  const int count = code->width * code->width;
  squares.dark.reserve(static_cast<std::size_t>(count));
  for (int i = 0; i < count; ++i) squares.dark.push_back((code->data[i] & 1) != 0);
  return squares;
}

std::string qr_text(const std::string& text) {
  const QrSquares code = qr_squares(text);
  if (code.across == 0) return {};
  constexpr int margin = 2;
  const auto dark = [&](int x, int y) {
    const bool inside = x >= 0 && y >= 0 && x < code.across && y < code.across;
    return inside && code.at(x, y);
  };
  // Two rows a line by half blocks; the light squares are drawn, because terminals are dark.
  std::string out;
  for (int y = -margin; y < code.across + margin; y += 2) {
    for (int x = -margin; x < code.across + margin; ++x) {
      const bool upper = !dark(x, y), lower = !dark(x, y + 1);
      out += upper && lower ? "█" : upper ? "▀" : lower ? "▄" : " ";
    }
    out += '\n';
  }
  return out;
}

}  // namespace propwright::server
