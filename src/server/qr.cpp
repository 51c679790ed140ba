#include <qrencode.h>

#include <memory>

#include "propwright/server/server.h"

namespace propwright::server {

std::string qr_text(const std::string& text) {
  const std::unique_ptr<QRcode, decltype(&QRcode_free)> code(
      QRcode_encodeString(text.c_str(), 0, QR_ECLEVEL_L, QR_MODE_8, 1), QRcode_free);
  if (!code) return {};
  constexpr int margin = 2;
  const auto dark = [&](int x, int y) {
    const bool inside = x >= 0 && y >= 0 && x < code->width && y < code->width;
    return inside && (code->data[y * code->width + x] & 1) != 0;
  };
  // Two rows a line by half blocks; the light squares are drawn, because terminals are dark.
  std::string out;
  for (int y = -margin; y < code->width + margin; y += 2) {
    for (int x = -margin; x < code->width + margin; ++x) {
      const bool upper = !dark(x, y), lower = !dark(x, y + 1);
      out += upper && lower ? "█" : upper ? "▀" : lower ? "▄" : " ";
    }
    out += '\n';
  }
  return out;
}

}  // namespace propwright::server
