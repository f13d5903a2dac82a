package org.solarmargin.cli.init;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;

import java.util.List;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.profile.CraftProfile;

class ProfileCatalogueTest {

  private static List<ProfileKey> keys() {
    return ProfileCatalogue.sections().stream().flatMap(s -> s.keys().stream()).toList();
  }

  @Test
  void everyProfileKeyIsListedOnce() {
    List<String> names = keys().stream().map(ProfileKey::name).toList();
    assertEquals(CraftProfile.keys(), new TreeSet<>(names));
    assertEquals(names.size(), new TreeSet<>(names).size(), "each once");
    keys().forEach(key -> assertFalse(key.how().isBlank(), key.name()));
  }

  /** Listed defaults are the actual defaults: stating them changes nothing. */
  @Test
  void listedDefaultsAreTheActualDefaults() {
    String least =
        "array.series_cells = 48\narray.parallel_strings = 1\ncell.isc_a = 6.02\ncell.voc_v ="
            + " 0.683\ncell.impp_a = 5.70\ncell.vmpp_v = 0.574\n";
    CraftProfile unstated = CraftProfile.parse("p", least);
    for (ProfileKey key : keys()) {
      boolean number = key.usual().matches("-?[0-9.]+");
      // stating a part of the time model or of the hover point states the whole of it
      boolean part =
          key.name().matches("rotor\\.(hover|command).*|sensor.*_(filter|delay|period|step).*");
      boolean changesItsSigma = key.name().equals("cell.voc_temp_coeff_pct_per_c");
      if (number && !part && !changesItsSigma) {
        CraftProfile stated =
            CraftProfile.parse("p", least + key.name() + " = " + key.usual() + "\n");
        assertEquals(unstated.settings(), stated.settings(), key.name());
        assertEquals(unstated.rules(), stated.rules(), key.name());
        assertEquals(unstated.rotors(), stated.rotors(), key.name());
      }
    }
  }
}
