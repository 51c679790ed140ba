/// The bench's pages of the command `spars`.
#pragma once

#include <vector>

#include "command.h"
#include "propwright/answer/spars_sheets.h"
#include "propwright/sheet/packet.h"

namespace propwright::desk {

std::vector<Option> spars_print_options();

/// What is to be printed and how, read before anything is worked out.
struct SparsPrint {
  std::string directory = {};  ///< empty: nothing is printed
  answer::SparPrintWishes wishes = {};
  sheet::PacketOptions how = {};
};
/// Problems with the option as the field.
base::Expected<SparsPrint> read_spars_print(const Arguments& arguments);

/// bench.pdf and svg/ in the directory; nothing where there is none.
base::Expected<sheet::PacketFiles> print_spars(const SparsPrint& print,
                                               const answer::SparsAnswer& answer);

}  // namespace propwright::desk
