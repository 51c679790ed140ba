#pragma once

namespace propwright::data {

struct EmbeddedFile {
  const char* name;
  const char* begin;
  const char* end;
};

extern const EmbeddedFile embedded_files[];
extern const unsigned embedded_file_count;

}  // namespace propwright::data
