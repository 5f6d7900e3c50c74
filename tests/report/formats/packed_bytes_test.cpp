#include "report/formats/base/packed_bytes.h"

#include <gtest/gtest.h>
#include <zlib.h>

#include <cstdint>
#include <limits>
#include <string>

namespace {

using namespace provecut;

// RFC 4648, section 10.
TEST(PackedBytes, base64_is_that_of_the_standard) {
  EXPECT_EQ(base64(""), "");
  EXPECT_EQ(base64("f"), "Zg==");
  EXPECT_EQ(base64("fo"), "Zm8=");
  EXPECT_EQ(base64("foo"), "Zm9v");
  EXPECT_EQ(base64("foob"), "Zm9vYg==");
  EXPECT_EQ(base64("fooba"), "Zm9vYmE=");
  EXPECT_EQ(base64("foobar"), "Zm9vYmFy");
}

TEST(PackedBytes, base64_knows_bytes_above_127) {
  EXPECT_EQ(base64("\xFF\xFE\xFD"), "//79");
}

TEST(PackedBytes, what_is_compressed_comes_back_whole) {
  std::string bytes;
  for (int i = 0; i < 100000; ++i) bytes += static_cast<char>(i % 251 * (i % 251) % 251);
  const std::string packed = compressed(bytes, 6);
  std::string back(bytes.size() + 1, '\0');
  uLongf size = back.size();
  ASSERT_EQ(uncompress(reinterpret_cast<Bytef*>(back.data()), &size, reinterpret_cast<const Bytef*>(packed.data()),
                       packed.size()),
            Z_OK);
  back.resize(size);
  EXPECT_EQ(back, bytes);
  EXPECT_LT(packed.size(), bytes.size());
}

// The encoding of Protocol Buffers: 300 is AC 02; of signed numbers -1 is 1 and 1 is 2.
TEST(PackedBytes, counts_take_seven_bits_to_a_byte) {
  std::string bytes;
  putCount(bytes, 0);
  putCount(bytes, 127);
  putCount(bytes, 300);
  EXPECT_EQ(bytes, std::string("\x00\x7F\xAC\x02", 4));
}

TEST(PackedBytes, small_numbers_of_either_sign_stay_small) {
  std::string bytes;
  for (const int v : {0, -1, 1, -2, 2147483647}) putSigned(bytes, v);
  EXPECT_EQ(bytes, std::string("\x00\x01\x02\x03\xFE\xFF\xFF\xFF\x0F", 9));
}

TEST(PackedBytes, the_lowest_number_is_packed_without_overflow) {
  std::string bytes;
  putSigned(bytes, std::numeric_limits<std::int64_t>::min());
  EXPECT_EQ(bytes, std::string("\xFF\xFF\xFF\xFF\xFF\xFF\xFF\xFF\xFF\x01", 10));
}

}  // namespace
