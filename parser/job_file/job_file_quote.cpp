// [quote]: money and minutes. Rates are per hour; shares are 0.25 for a quarter.
#include "parser/job_file/job_file_keys.h"

namespace provecut::job_file {

namespace {

void readQuantity(Reader& reader, const Spot& spot, Quote& quote) {
  const std::string wanted = "a list of whole numbers, [1, 10, 50]";
  if (spot.node.kind != NodeKind::list || spot.node.items.empty()) {
    failType(reader, spot, wanted);
    return;
  }
  quote.quantity.clear();
  for (const Node& item : spot.node.items) {
    if (const auto v = readWhole(reader, {item, spot.key, spot.section}, Range{1, 1e6})) quote.quantity.push_back(*v);
  }
}

// Who writes 8.25 where 0.0825 is meant is told so.
template <class Member>
Key<Quote> share(std::string_view name, Member Quote::*member, Range range) {
  return {name, {Form::number, shares, range}, [=](Reader& reader, const Spot& spot, Quote& quote) {
            if (const auto v = readNumber(reader, spot, shares, range)) {
              quote.*member = *v;
            } else if (spot.node.number > 1 && spot.node.number <= 100) {
              reader.problems.back().help +=
                  " It is a share: " + shown(spot.node.number) + " % is " + shown(spot.node.number / 100) + ".";
            }
          }};
}

const std::vector<Key<Quote>>& quoteKeys() {
  constexpr Range up_to_all{0, 1};
  // A mark-up may be more than the cost; ten times the cost is a percentage that was meant.
  constexpr Range up_to_tenfold{0, 10};
  static const std::vector<Key<Quote>> keys{
      text("currency", &Quote::currency),
      number("machine_rate", &Quote::machine_rate, money, not_negative),
      number("labour_rate", &Quote::labour_rate, money, not_negative),
      number("setup_minutes", &Quote::setup_minutes, minutes, not_negative),
      number("per_setup_minutes", &Quote::per_setup_minutes, minutes, not_negative),
      number("change_over_minutes", &Quote::change_over_minutes, minutes, not_negative),
      number("programming_minutes", &Quote::programming_minutes, minutes, not_negative),
      number("programming_rate", &Quote::programming_rate, money, not_negative),
      number("load_minutes", &Quote::load_minutes, minutes, not_negative),
      number("finishing_minutes", &Quote::finishing_minutes, minutes, not_negative),
      number("material_cost", &Quote::material_cost, money, not_negative),
      share("material_waste", &Quote::material_waste, up_to_all),
      number("tooling_per_hour", &Quote::tooling_per_hour, money, not_negative),
      number("consumables_cost", &Quote::consumables_cost, money, not_negative),
      share("margin", &Quote::margin, Range{0, 1, false, true}),
      share("markup", &Quote::markup, up_to_tenfold),
      share("tax", &Quote::tax, up_to_all),
      special<Quote>("quantity", {Form::wholes, counts, Range{1, 1e6}}, readQuantity),
      whole("parts_per_stock", &Quote::parts_per_stock, Range{1, 1e6}),
  };
  return keys;
}

}  // namespace

void readQuote(Reader& reader, const Spot& spot, Job& job) {
  Quote quote;
  quote.place = spot.node.place;
  readTable(reader, spot.node, "[quote]", "quote", quoteKeys(), quote);
  const Entry* margin = findEntry(spot.node, "margin");
  const Entry* markup = findEntry(spot.node, "markup");
  if (margin && markup) {
    const Entry* later = margin->place.line > markup->place.line ? margin : markup;
    reader.fail(later->place, "[quote] has both `margin` and `markup`",
                "Keep one: margin is a share of the price, markup a share of the cost.",
                {{(later == margin ? markup : margin)->place, "the other one"}});
  }
  job.quote = std::move(quote);
}

void listQuoteKeys(std::vector<KnownKey>& known) {
  list(known, "quote", quoteKeys());
}

}  // namespace provecut::job_file
